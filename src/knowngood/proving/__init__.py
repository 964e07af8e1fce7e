"""Scores of the advice on cars whose causes are known: simulated ones, real repairs. Never used to tune a chance."""
