"""What must hold in the knowledge files, one function a rule."""

from __future__ import annotations

from collections.abc import Callable

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.rules import (
    branches,
    cars,
    codes,
    dominated,
    faults,
    finite,
    ids,
    ladders,
    names,
    ordered,
    shows,
    sight,
    sources,
    used,
    ways,
    work,
)
from knowngood.library.where import Where

Rule = Callable[[Library, Where], list[Problem]]

RULES: tuple[Rule, ...] = (
    ids.ids_are_plain,
    ids.aliases_are_free,
    ids.words_say_something,
    names.names_exist,
    sources.sources_exist,
    sources.cautions_have_sources,
    finite.numbers_are_finite,
    ladders.ladders_are_whole,
    ladders.inputs_are_levels,
    ladders.ladders_without_circles,
    branches.branches_are_lawful,
    branches.consumers_are_lawful,
    branches.shared_records_stand_on_branches,
    ways.ways_are_lawful,
    ways.readings_are_taken_on_ways,
    faults.faults_have_places,
    faults.acts_are_lawful,
    faults.hidden_is_lawful,
    faults.chances_are_ranges,
    faults.raised_is_lawful,
    faults.traces_are_lawful,
    faults.faults_have_cures,
    faults.signatures_differ,
    faults.follow_ons_without_circles,
    shows.readings_stand_somewhere,
    shows.looks_are_settled_by_lawful_words,
    shows.columns_are_whole,
    shows.numbers_are_whole,
    shows.codes_are_whole,
    ordered.tables_are_monotone,
    codes.runs_are_lawful,
    cars.needs_are_lawful,
    cars.shares_are_whole,
    work.access_without_circles,
    work.access_minutes_are_ranges,
    work.amounts_are_lawful,
    work.states_are_lawful,
    sight.faults_are_seen,
    sight.checks_see,
    sight.readings_are_taken,
    sight.faults_come_up,
    dominated.no_check_is_dominated,
)
FOR_OURS: tuple[Rule, ...] = (used.nothing_lies_unused,)
"""Rules of the files that come with the package only: a shop may write down a tool that no record of ours needs."""


def check_library(library: Library, where: Where | None = None) -> list[Problem]:
    """Every problem of the library, in the order of the rules; ``where`` gives file and line to each."""
    place = where or Where()
    return [problem for rule in RULES for problem in rule(library, place)]
