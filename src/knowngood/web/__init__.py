"""The page: served from the bay's own machine. Nothing is computed here."""
