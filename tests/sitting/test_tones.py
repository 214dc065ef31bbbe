"""Each verdict has a tone of its own, told apart without a musical ear."""

import struct

import pytest

from workbench.sitting.tones import RATE, TONES, samples


@pytest.mark.parametrize("word", TONES)
def test_a_tone_is_short_and_starts_and_ends_in_silence(word: str) -> None:
    data = samples(word)
    values = struct.unpack(f"<{len(data) // 2}h", data)
    assert 0.05 < len(values) / RATE < 0.8
    assert abs(values[0]) < 300
    assert abs(values[-1]) < 1500
    assert 4000 < max(values) < 16000


def test_verdicts_differ_in_rhythm_not_only_in_pitch() -> None:
    rhythms = {word: tuple((note.ms, bool(note.hertz)) for note in notes) for word, notes in TONES.items()}
    assert len(set(rhythms.values())) == len(rhythms)


def test_a_word_without_a_tone_is_silent() -> None:
    assert samples("no such word") == b""
