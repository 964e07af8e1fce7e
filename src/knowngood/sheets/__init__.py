"""Results as words, text, pages: pure, bytes and text only."""
