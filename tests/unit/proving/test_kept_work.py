"""Results of a long run kept one by one."""

from __future__ import annotations

from pathlib import Path

from knowngood.proving.kept_work import Kept, source, source_of
from knowngood.proving.policies import Outcome
from knowngood.proving.simulated_bay import CHECKS, Account, Done
from knowngood.proving.simulated_pool import spread


def outcome() -> Outcome:
    account = Account(minutes=3.0, checks=1, done=[Done(CHECKS, "look", 3.0, 0.0)])
    return Outcome(7, "ours", account, 2.0, 5, 1, "miss", ("plug_worn cylinder 1",))


def test_a_run_that_was_stopped_goes_on_where_it_was(tmp_path: Path) -> None:
    """What was kept comes back the same, for its own job only; half a line at the end is as good as none."""
    before = Kept("ways", Outcome, tmp_path)
    before.add((7, "ours"), outcome())
    with before.file.open("a") as out:
        out.write('["(8, \'ours\')", {"se')
    after = Kept("ways", Outcome, tmp_path)
    assert after.get((7, "ours")) == outcome()
    assert after.get((8, "ours")) is None


def test_what_is_added_after_half_a_line_is_kept(tmp_path: Path) -> None:
    """The half line is lost, and nothing else: neither what stood before it nor what comes behind."""
    before = Kept("numbers", int, tmp_path)
    before.add((1,), 10)
    with before.file.open("a") as out:
        out.write('["(2,)", ')
    going_on = Kept("numbers", int, tmp_path)
    going_on.add((2,), 20)
    going_on.add((3,), 30)
    again = Kept("numbers", int, tmp_path)
    assert [again.get((job,)) for job in (1, 2, 3)] == [10, 20, 30]


def test_results_belong_to_the_code_they_came_from(tmp_path: Path) -> None:
    """Another sign in a file of code or knowledge is another source; in any other file it is not."""
    (tmp_path / "code.py").write_text("one = 1\n")
    (tmp_path / "notes.md").write_text("first\n")
    first = source_of(tmp_path)
    (tmp_path / "notes.md").write_text("second\n")
    assert source_of(tmp_path) == first
    (tmp_path / "code.py").write_text("one = 2\n")
    changed = source_of(tmp_path)
    (tmp_path / "code.py").rename(tmp_path / "other.py")
    assert len({first, changed, source_of(tmp_path)}) == 3
    assert source() in Kept("ways", Outcome, tmp_path).file.name


def refuse(library: object, seed: int) -> int:
    raise AssertionError(f"{seed} was worked out again")


def test_what_is_kept_is_not_worked_out_again(tmp_path: Path) -> None:
    """A pool with nothing left to do hands back what is kept, in the order asked."""
    kept = Kept("numbers", int, tmp_path)
    kept.add((2,), 20)
    kept.add((1,), 10)
    assert spread(refuse, [(1,), (2,)], "numbers", kept=kept) == [10, 20]
