"""Use cases: the only place where library, belief, planner and jobs meet."""
