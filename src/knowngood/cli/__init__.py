"""The terminal: verbs that say, ask and show. Nothing is computed here."""
