"""Scores of the advice on real repairs with known causes. Never used to tune a chance."""
