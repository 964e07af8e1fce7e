"""Charging windows (common practice, one maker's table) and rectifier ripple against a computed waveform."""

import numpy
import pytest

from knowngood.measure.charging import charging_verdict, charging_window, ripple_frequencies, unsmoothed_ripple


@pytest.mark.parametrize(
    ("degrees", "low", "high"),
    [
        pytest.param(-20.0, 14.0, 15.1, id="r4.17--20"),
        pytest.param(20.0, 13.7, 14.6, id="r4.17-20"),
        pytest.param(60.0, 13.2, 14.3, id="r4.17-60"),
        pytest.param(80.0, 12.9, 14.1, id="r4.17-80"),
    ],
)
def test_window_by_temperature(degrees: float, low: float, high: float) -> None:
    """One maker's table."""
    assert charging_window(degrees) == (pytest.approx(low), pytest.approx(high))


@pytest.mark.parametrize(
    ("volts", "word"),
    [
        pytest.param(13.51, "inside", id="r4.18-13.5"),
        pytest.param(13.49, "low", id="r4.18-under"),
        pytest.param(14.5, "inside", id="r4.18-14.5"),
        pytest.param(14.79, "inside", id="r4.18-14.8"),
        pytest.param(14.81, "high", id="r4.18-over"),
    ],
)
def test_general_window(volts: float, word: str) -> None:
    """13.5 to 14.5 V (a maker) lies inside 13.5 to 14.8 V (the trade)."""
    assert charging_verdict(volts, voltage_se_v=0.0).word == word


def rectified(samples: int = 36000, *, dead_phase: bool = False) -> numpy.ndarray:
    """One period of three sines, the highest less the lowest at every moment; a phase left out when dead."""
    angle = numpy.linspace(0.0, 2.0 * numpy.pi, samples, endpoint=False)
    phases = [numpy.sin(angle + k * 2.0 * numpy.pi / 3.0) for k in range(2 if dead_phase else 3)]
    return numpy.max(phases, axis=0) - numpy.min(phases, axis=0)


def test_ripple_of_a_sound_rectifier() -> None:
    """Shares taken from the waveform itself."""
    wave = rectified()
    rms, peak_to_peak = unsmoothed_ripple()
    assert numpy.std(wave) / numpy.mean(wave) == pytest.approx(rms, rel=1e-4)
    assert numpy.ptp(wave) / numpy.max(wave) == pytest.approx(peak_to_peak, rel=1e-4)


def test_where_the_ripple_lies() -> None:
    """The spectrum of a sound period starts at six; with a phase gone there is ripple at far lower multiples."""
    sound = numpy.abs(numpy.fft.rfft(rectified()))
    broken = numpy.abs(numpy.fft.rfft(rectified(dead_phase=True)))
    assert numpy.argmax(sound[1:]) + 1 == 6
    assert numpy.argmax(broken[1:]) + 1 == 2
    found = ripple_frequencies(900.0, pulley_ratio=2.0, pole_pairs=6)
    assert found.sound_hz == pytest.approx(6 * 900.0 / 60.0 * 2.0 * 6)


def test_open_diode_shows_once_a_period() -> None:
    """One of six diodes open: the strongest ripple is at one pulse a period."""
    angle = numpy.linspace(0.0, 2.0 * numpy.pi, 36000, endpoint=False)
    phases = [numpy.sin(angle + k * 2.0 * numpy.pi / 3.0) for k in range(3)]
    # without its upper diode the first phase never feeds the positive side
    wave = numpy.maximum(numpy.max(phases[1:], axis=0) - numpy.min(phases, axis=0), 0.0)
    spectrum = numpy.abs(numpy.fft.rfft(wave))
    assert numpy.argmax(spectrum[1:]) + 1 == 1
    assert ripple_frequencies(900.0, pulley_ratio=2.0, pole_pairs=6).fault_hz == pytest.approx(900.0 / 60.0 * 2.0 * 6)
