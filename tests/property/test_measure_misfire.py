"""Misfires: shares add up, blocks count once, orders superpose."""

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from knowngood.measure.misfire import cylinder_shares, misfire_rate
from knowngood.measure.misfire_change import BLOCK_REVOLUTIONS, clean_revolutions_needed, misfire_change

BLOCKS = st.lists(st.integers(0, 400), min_size=1, max_size=40)


@given(st.dictionaries(st.integers(1, 12), st.integers(0, 500), min_size=2))
def test_shares_add_up(counts: dict[int, int]) -> None:
    """To 100 %, and one cylinder with over 90 % leaves no second with over 10."""
    if sum(counts.values()) == 0:
        return
    shares = cylinder_shares(counts)
    assert abs(sum(shares.shares_pct.values()) - 100.0) < 1e-6
    if shares.code == "one cylinder":
        assert len(shares.cylinders) == 1
        assert sum(share > 10.0 for share in shares.shares_pct.values()) == 1


@given(st.integers(0, 400), st.integers(200, 5000), st.sampled_from([3, 4, 5, 6, 8, 12]))
def test_rate_rises_with_the_count(count: int, revolutions: int, cylinders: int) -> None:
    """And its limits hold it."""
    if count + 1 > revolutions * cylinders // 2:
        return
    one, more = (misfire_rate(n, revolutions, cylinders).percent for n in (count, count + 1))
    assert one.low <= one.value <= one.high
    assert (more.low, more.value, more.high) > (one.low, one.value, one.high)


@given(BLOCKS, BLOCKS, st.randoms(use_true_random=False))
def test_size_of_bursts_and_order_do_not_matter(before: list[int], after: list[int], dice: Random) -> None:
    """A block is bad or not, wherever it stands."""
    if not any(before) and not any(after):
        return
    shuffled = list(before)
    dice.shuffle(shuffled)
    change = misfire_change(before, after)
    assert misfire_change([min(n, 1) for n in shuffled], after).test == change.test
    assert str(BLOCK_REVOLUTIONS * len(after)) in change.says or any(after)


@given(st.integers(1, 100), st.floats(100.0, 1e5))
def test_rarer_misfires_ask_for_more_clean_revolutions(count: int, revolutions: float) -> None:
    """The range holds the value."""
    need, rarer = clean_revolutions_needed(count + 1, revolutions), clean_revolutions_needed(count, revolutions)
    assert need.low < need.value < need.high
    assert rarer.value > need.value
