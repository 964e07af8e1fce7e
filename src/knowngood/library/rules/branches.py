"""Branches: their kinds, what they come after, what hangs on them."""

from __future__ import annotations

from knowngood.car import WITH_LEVELS
from knowngood.errors import Problem
from knowngood.library.branch_records import BRANCH_LEVELS, KINDS_OF_BRANCH
from knowngood.library.branching import CARRIES, HERE
from knowngood.library.records import Library
from knowngood.library.rules.ladders import circles
from knowngood.library.shape import did_you_mean
from knowngood.library.where import Where


def branches_are_lawful(library: Library, where: Where) -> list[Problem]:
    """A branch is of a known kind at a known place, and no branch is behind itself."""
    problems = []
    for branch in library.branches.values():
        if branch.kind not in KINDS_OF_BRANCH:
            fix = did_you_mean(branch.kind, KINDS_OF_BRANCH, "Kinds")
            problems.append(
                where.problem("branch", branch.id, ("kind",), f"'{branch.kind}' is no kind of branch.", fix)
            )
        if branch.place not in WITH_LEVELS:
            fix = did_you_mean(branch.place, WITH_LEVELS)
            problems.append(
                where.problem("branch", branch.id, ("place",), f"no branch can sit at '{branch.place}'.", fix)
            )
    for circle in circles({branch.id: branch.after for branch in library.branches.values()}):
        fact = f"branches come after each other in a circle: {', after '.join(circle)}."
        problems.append(where.problem("branch", circle[0], ("after",), fact, "Take one out."))
    return problems


def consumers_are_lawful(library: Library, where: Where) -> list[Problem]:
    """What a consumer loses is said for levels a branch has, and leads to levels that are there."""
    problems = []
    for consumer in library.consumers.values():
        for on, table in consumer.lost.items():
            ladder = library.ladders.get(on)
            for level, result in table.items():
                keys = ("lost", on, level)
                if level not in BRANCH_LEVELS[1:]:
                    fix = did_you_mean(level, BRANCH_LEVELS[1:], "Levels")
                    problems.append(where.problem("consumer", consumer.id, keys, f"a feed is never '{level}'.", fix))
                elif ladder is not None and result not in ladder.levels[1:]:
                    fact = f"the ladder '{on}' has no level '{result}' below the good one."
                    fix = did_you_mean(result, ladder.levels[1:], "Levels")
                    problems.append(where.problem("consumer", consumer.id, keys, fact, fix))
    return problems


def shared_records_stand_on_branches(library: Library, where: Where) -> list[Problem]:
    """What every branch can have is of known kinds of branch and names the branch's own ladders."""
    problems = []
    for table, records in (
        ("branch_fault", library.branch_faults),
        ("branch_reading", library.branch_readings),
        ("branch_check", library.branch_checks),
    ):
        for record in records.values():
            for index, kind in enumerate(record.branches):
                if kind not in KINDS_OF_BRANCH:
                    fix = did_you_mean(kind, KINDS_OF_BRANCH, "Kinds")
                    keys = ("branches", index)
                    problems.append(where.problem(table, record.id, keys, f"'{kind}' is no kind of branch.", fix))
    for fault in library.branch_faults.values():
        if not any(act.on == HERE for act in fault.acts):
            fact = "this fault does nothing to its branch."
            fix = f'Let it act on "{HERE}".'
            problems.append(where.problem("branch_fault", fault.id, ("acts",), fact, fix))
    for reading in library.branch_readings.values():
        if not {HERE, CARRIES} & {reading.on, *reading.inputs}:
            fact = "this reading sees nothing of its branch."
            fix = f'Let it stand on "{HERE}", or take "{CARRIES}" into its inputs.'
            problems.append(where.problem("branch_reading", reading.id, (), fact, fix))
    return problems
