"""Measurements worked out: one topic a module, plain functions on bare numbers with the unit in the name.

A function returns a value and its standard error, or a small frozen record, refuses what it cannot work out
(`NotMeasurable`, with the reason), and says in its notes what its result cannot tell. Errors given are one
standard error each, taken as independent. Limits are defaults that can be changed: the specification of the
car in hand always wins.
"""
