"""The belief as a Bayesian network of a general-purpose library: every fault a variable, nothing folded.

Two ways to write it down. ``by_nodes`` takes the nodes the belief built (their faults and inputs) and judges the
folding and the elimination. ``by_ladders`` takes the ladders and acts of the library, place by place and moment by
moment, and judges the building of the nodes too. Neither looks at the belief's own tables of faults and chains.

The worst of many, and a count of many, are chains of two-parent variables; a reading is a two-state child of what it
stands on, seen in its first state.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Sequence

import numpy as np
from msgspec.structs import replace
from scipy.special import roots_jacobi

from knowngood.belief.acting import Regime
from knowngood.belief.exact import ExactBelief
from knowngood.belief.faces import Target
from knowngood.belief.looks import LOOKS_WORTH, POINTS, condition_of
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance
from knowngood.car import Place
from knowngood.library.steps import steps_of
from tests.naive.brute_belief import ladder_places, touches

with warnings.catch_warnings():
    # its wrapper types warn as they are made, and die where a warning is an error
    warnings.simplefilter("ignore")
    import pyagrum as gum

Source = tuple[int, tuple[int, ...]]
MOST_CELLS = 30_000_000


class Judge:
    """A network of :mod:`pyagrum` with evidence; ``chances`` asks it."""

    def __init__(self, belief: ExactBelief) -> None:
        assert belief.exact, "the belief's own tables do not hold all that was said; this is no comparison"
        self.belief = belief
        self.bn = gum.BayesNet()
        self.seen: dict[int, int] = {}
        self.faults: dict[Instance, int] = {}
        self.levels: dict[str, int] = {}
        self.nodes: dict[int, int] = {}
        self.hidden: dict[tuple[object, ...], int] = {}
        self.cause = -1
        for at in belief.faults:
            self.fault(belief.instance_now(at))

    def variable(self, size: int, parents: Sequence[int], table: np.ndarray) -> int:
        """A variable with its chances given its parents: axes of ``table`` are the parents in turn, then itself."""
        index = self.bn.add(gum.RangeVariable(f"v{self.bn.size()}", "", 0, max(size, 2) - 1))
        names = [self.bn.variable(parent).name() for parent in parents] + [self.bn.variable(index).name()]
        for parent in parents:
            self.bn.addArc(parent, index)
        if size < 2:
            table = np.concatenate([table, np.zeros_like(table)], axis=-1)
        cpt = self.bn.cpt(index)
        # the library lays its axes in an order of its own, and tells it; the first runs fastest
        axes = [names.index(name) for name in cpt.names]
        cpt.fillWith(np.transpose(table, axes).flatten(order="F").tolist())
        return index

    def fault(self, instance: Instance) -> int:
        """The two-state variable of one fault of one part, or of a face of it."""
        if instance not in self.faults and (instance.grade or instance.look):
            self.faults[instance] = self._face(instance)
        elif instance not in self.faults:
            birth = self.belief.model.timeline.births.get(instance)
            stem = self.belief.built.stems.get(instance)
            if birth is not None and birth.parent is not None:
                parent = self.fault(birth.parent)
                left = np.array([[1.0 - birth.comes, birth.comes], [birth.works, 1.0 - birth.works]])
                self.faults[instance] = self.variable(2, [parent], left)
            elif stem is not None:
                parents = [self.fault(parent) for parent, _ in stem.parents]
                own, causes = self._caused(stem.base)
                spared = np.ones([2] * len(parents))
                for axis, (_, share) in enumerate(stem.parents):
                    spared = spared * np.array([1.0, 1.0 - share]).reshape(
                        [-1 if a == axis else 1 for a in range(spared.ndim)]
                    )
                spared = np.multiply.outer(1.0 - own, spared)
                self.faults[instance] = self.variable(2, causes + parents, np.stack([spared, 1.0 - spared], axis=-1))
            else:
                p, causes = self._caused(self.belief.model.chance_of(instance, self.belief.built.common))
                self.faults[instance] = self.variable(2, causes, np.stack([1.0 - p, p], axis=-1))
        return self.faults[instance]

    def _face(self, face: Instance) -> int:
        """Whether a fault is there, is of the grade, and shows in the look."""
        fault = self.belief.model.library.faults[face.fault]
        plain = replace(face, grade="", look=())
        root = replace(plain, generation=0)
        parents, table = [self.fault(plain)], np.array([0.0, 1.0])
        if face.grade:
            shares = np.array(list(fault.grades.values()))
            parents.append(self.hidden_of((root, "grade"), lambda: self.variable(len(shares), [], shares)))
            table = np.multiply.outer(table, np.eye(len(shares))[list(fault.grades).index(face.grade)])
        if face.look:
            parents.append(self.hidden_of((root, face.look), lambda: self._shown(root, face.look)))
            table = np.multiply.outer(table, np.array([0.0, 1.0]))
        return self.variable(2, parents, np.stack([1.0 - table, table], axis=-1))

    def _shown(self, root: Instance, look: tuple[str, int, int]) -> int:
        """Whether a fault shows in a look, if it is there: by how often it shows under that condition."""
        mean = self.belief.model.library.faults[root.fault].shows
        a = LOOKS_WORTH * mean.get(look[0], mean["any"])
        points, weights = roots_jacobi(POINTS, LOOKS_WORTH - a - 1.0, a - 1.0)
        often = (points + 1.0) / 2.0
        number = self.hidden_of((root, look[0]), lambda: self.variable(POINTS, [], weights / weights.sum()))
        return self.variable(2, [number], np.stack([1.0 - often, often], axis=-1))

    def hidden_of(self, key: tuple[object, ...], made: Callable[[], int]) -> int:
        """What a fault has of its own (its grade, how often it shows, whether it shows now), made once."""
        if key not in self.hidden:
            self.hidden[key] = made()
        return self.hidden[key]

    def _caused(self, chance: np.ndarray) -> tuple[np.ndarray, list[int]]:
        """A chance as a table over the common causes where these bear on it, and the variable of these."""
        if np.ptp(chance) == 0.0:
            return chance[0], []
        if self.cause < 0:
            self.cause = self.variable(len(chance), [], self.belief.built.common.chance)
        return chance, [self.cause]

    def joined(self, sources: Sequence[Source], size: int, *, adds: bool) -> int:
        """The worst of the sources, or their sum up to ``size - 1``, one after the other."""
        if not sources:
            return self.variable(size, [], np.eye(1, size)[0])
        state = -1
        for source, through in sources:
            sent = np.array(through)
            if state < 0:
                reach, parents = np.minimum(sent, size - 1), [source]
            elif state == source:
                raise AssertionError("a chain met itself")
            else:
                so_far = np.arange(size)
                reach = np.add.outer(so_far, sent) if adds else np.maximum.outer(so_far, sent)
                reach, parents = np.minimum(reach, size - 1), [state, source]
            widths = [self.bn.variable(parent).domainSize() for parent in parents]
            reach = np.pad(reach, [(0, width - got) for width, got in zip(widths, reach.shape, strict=True)])
            state = self.variable(size, parents, np.eye(size)[reach])
        return state

    def difference(self, up: int, down: int, shift: int, size: int) -> int:
        """``up`` less ``down``, ``shift`` standing for none."""
        a, b = (self.bn.variable(one).domainSize() for one in (up, down))
        if up == down:
            return self.variable(size, [], np.eye(1, size, shift)[0])
        reach = np.clip(np.subtract.outer(np.arange(a), np.arange(b)) + shift, 0, size - 1)
        return self.variable(size, [up, down], np.eye(size)[reach])

    def see(self, parents: Sequence[int], table: np.ndarray) -> None:
        """Evidence: its chance at each state of the parents, on any scale."""
        widths = [self.bn.variable(parent).domainSize() for parent in parents]
        table = np.pad(table, [(0, width - got) for width, got in zip(widths, table.shape, strict=True)])
        likely = table / table.max()
        self.seen[self.variable(2, parents, np.stack([likely, 1.0 - likely], axis=-1))] = 0

    def level(self, name: str) -> int:
        """The unknown healthy level, even over its grid."""
        if name not in self.levels:
            points = len(self.belief.known.levels[name])
            self.levels[name] = self.variable(points, [], np.full(points, 1.0 / points))
        return self.levels[name]

    def largest_table(self) -> float:
        """Cells of the largest table the library would fill."""
        tree = gum.JunctionTreeGenerator().junctionTree(self.bn)
        sizes = {node: self.bn.variable(node).domainSize() for node in self.bn.nodes()}
        return max(float(np.prod([sizes[node] for node in tree.clique(clique)])) for clique in tree.nodes())

    def variables(self, faults: Sequence[FaultAt]) -> list[int]:
        """The variables of faults as they are now."""
        return [self.faults[self.belief.instance_now(at)] for at in faults]

    def engine(self, faults: Sequence[FaultAt]) -> gum.LazyPropagation:
        """Inference with all evidence, on one thread."""
        engine = gum.LazyPropagation(self.bn)
        engine.setNumberOfThreads(1)
        engine.setEvidence(self.seen)
        engine.setTargets(set(self.variables(faults)))
        return engine

    def chances(self, faults: Sequence[FaultAt]) -> np.ndarray:
        """Chance of each fault now."""
        assert self.largest_table() < MOST_CELLS, "too large for the judge; take a smaller car"
        engine = self.engine(faults)
        engine.makeInference()
        return np.array([engine.posterior(variable)[1] for variable in self.variables(faults)])


def _see_findings(judge: Judge) -> None:
    for clue in judge.belief.network.clues:
        if clue.instance is not None:
            judge.see([judge.fault(clue.instance)], clue.table)


def by_nodes(belief: ExactBelief) -> Judge:
    """From the faults and inputs of the belief's nodes."""
    judge = Judge(belief)
    nodes = belief.network.nodes
    built = judge.nodes

    def build(index: int) -> int:
        if index not in built:
            node = nodes[index]
            fed = [(build(source), through) for source, through in node.inputs]
            if node.op == "net":
                (up, _), (down, _) = fed
                built[index] = judge.difference(up, down, node.shift, node.size)
            else:
                faults = sorted(node.faults.items(), key=lambda item: (belief.model.seat(item[0].home), item[0]))
                fed = [(judge.fault(one), (0, level)) for one, level in faults] + fed
                built[index] = judge.joined(fed, node.size, adds=node.op == "add")
        return built[index]

    for clue in belief.network.clues:
        if clue.instance is None:
            judge.see([*([judge.level(clue.level)] if clue.level else []), build(clue.node)], clue.table)
    for index in belief.network.asked:
        build(index)
    _see_findings(judge)
    return judge


class _Ladders:
    """Ladders at their places and moments as variables, from the records of the library."""

    def __init__(self, judge: Judge) -> None:
        self.judge = judge
        self.belief = judge.belief
        self.model = judge.belief.model
        self.built: dict[tuple[object, ...], int] = {}

    def state(self, ladder_id: str, place: Place, regime: Regime, moment: int, session: int) -> int:
        """The variable of a ladder."""
        key = (ladder_id, place, regime, moment, session)
        if key not in self.built:
            ladder = self.model.acting.ladders[ladder_id]
            sources = [
                *self._faults(ladder_id, place, regime, moment, session),
                *self._inputs(ladder_id, place, regime, moment, session),
            ]
            if ladder.combine == "worst":
                self.built[key] = self.judge.joined(sources, len(ladder.levels), adds=False)
            else:
                up = self._side(sources, ladder.high, 1)
                if ladder.low == 0:
                    self.built[key] = up
                else:
                    down = self._side(sources, -ladder.low, -1)
                    size = ladder.high - ladder.low + 1
                    self.built[key] = self.judge.difference(up, down, -ladder.low, size)
        return self.built[key]

    def _side(self, sources: Sequence[Source], most: int, sign: int) -> int:
        steps = [(source, tuple(max(sign * step, 0) for step in through)) for source, through in sources]
        return self.judge.joined([one for one in steps if any(one[1])], most + 1, adds=True)

    def _faults(self, ladder_id: str, place: Place, regime: Regime, moment: int, session: int) -> list[Source]:
        """What each fault adds, engine-wide ones first, then along the engine."""
        library, snapshot = self.model.library, self.belief.known.snapshots[moment]
        ladder = self.model.acting.ladders[ladder_id]
        usual = ladder.combine == "sum" and regime.name == "any"
        shared = ladder.combine == "sum" and ladder.place != "cylinder"  # a bank's mixture is what its cylinders share
        where = "cruise" if usual else regime.name
        reading = (library.readings | library.codes).get(ladder_id.removeprefix("reading "))
        own = reading.direct if reading is not None and ladder_id.startswith("reading ") else {}
        found: list[Source] = []
        for at in sorted(self.model.faults, key=lambda one: self.model.seat(one.place)):
            fault = library.faults[at.fault]
            if not touches(at.place, place, self.model.layout) or (shared and at.place.kind not in ("engine", "bank")):
                continue
            look = (condition_of(regime), session, moment) if fault.shows and session else ()
            strengths: dict[tuple[str, bool], int] = {}
            for act in fault.acts:
                shows = where == "any" or not act.when or where in act.when
                under = not act.only or bool(set(act.only) & regime.modifiers)
                if act.on == ladder_id and shows and under:
                    strength = ladder.levels.index(act.level) if act.level else act.shift
                    for grade in [act.grade] if act.grade else fault.grades or [""]:
                        face = (grade, bool(look) and not act.steady)
                        strengths[face] = max(strengths.get(face, 0), strength, key=abs)
            if at.fault in own:
                strengths["", False] = ladder.levels.index(own[at.fault])
            one = snapshot.instance(fault, at.place)
            faces = [(self._face(one, grade, look if goes else ()), size) for (grade, goes), size in strengths.items()]
            if len(faces) > 1:  # the strongest that is true
                worst = max(abs(size) for _, size in faces)
                sign = 1 if faces[0][1] > 0 else -1
                assert all(size * sign > 0 for _, size in faces), "a fault that pulls both ways"
                chosen = self.judge.joined([(face, (0, abs(size))) for face, size in faces], worst + 1, adds=False)
                found.append((chosen, tuple(sign * level for level in range(worst + 1))))
            else:
                found += [(face, (0, size)) for face, size in faces]
        return found

    def _face(self, one: Instance, grade: str, look: tuple[object, ...]) -> int:
        return self.judge.fault(replace(one, grade=grade, look=look) if grade or look else one)

    def _inputs(self, ladder_id: str, place: Place, regime: Regime, moment: int, session: int) -> list[Source]:
        ladder, layout = self.model.acting.ladders[ladder_id], self.model.layout
        found: list[Source] = []
        for source_id, table in ladder.inputs.items():
            source = self.model.acting.ladders[source_id]
            for other in ladder_places(source, layout):
                if (source.place == ladder.place and other != place) or not touches(other, place, layout):
                    continue
                state = self.state(source_id, other, regime, moment, session)
                states = source.high - source.low + 1 if source.combine == "sum" else len(source.levels)
                through = [0] * states
                for key, value in table.items():
                    sent = value if isinstance(value, int) else ladder.levels.index(value)
                    if source.combine == "sum":
                        for step in steps_of(key) or ():
                            through[step - source.low] = sent
                    else:
                        through[source.levels.index(key)] = sent
                if any(through):
                    found.append((state, tuple(through)))
        return found


def by_ladders(belief: ExactBelief) -> Judge:
    """From the ladders and acts of the library: no node of the belief is looked at, only how often a word was said."""
    judge = Judge(belief)
    ladders = _Ladders(judge)
    classes: dict[Target, tuple[int, ...]] = belief.built.classes
    for said, clue in zip(belief.known.said, belief.network.clues, strict=False):
        target = said.target
        variable = ladders.state(target.ladder, target.place, target.regime, target.moment, target.session)
        # a repeated reading weighs less: its table is taken from the clue, laid out over all levels again
        table = clue.table[..., list(classes[target])] if target in classes else clue.table
        judge.see([*([judge.level(said.level)] if said.level else []), variable], table)
    _see_findings(judge)
    return judge


JUDGES: dict[str, Callable[[ExactBelief], Judge]] = {"nodes": by_nodes, "ladders": by_ladders}
