"""Plays the verdicts' tones on a thread of its own; where there is no sound, the system's beep."""

import os
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event
from typing import Any

from PySide6.QtWidgets import QApplication

from workbench.sitting.tones import RATE, samples


class Tones:
    """`play(word)` returns at once. `on` False: silent. What was played last is in `played`."""

    def __init__(self, on: bool = True) -> None:
        self.on = on
        self.played = ""
        self._thread: ThreadPoolExecutor | None = None
        self._no_sound = False

    def play(self, word: str) -> None:
        data = samples(word)
        if not self.on or not data:
            return
        self.played = word
        if self._no_sound:
            QApplication.beep()
            return
        if self._thread is None:
            self._thread = ThreadPoolExecutor(1, thread_name_prefix="tones")
        self._thread.submit(self._play, data)

    def close(self) -> None:
        if self._thread is not None:
            self._thread.shutdown(wait=False, cancel_futures=True)

    def _play(self, data: bytes) -> None:
        if not can_sound():
            self._no_sound = True
            return
        try:
            import miniaudio

            done = Event()
            device = miniaudio.PlaybackDevice(
                output_format=miniaudio.SampleFormat.SIGNED16, nchannels=1, sample_rate=RATE, buffersize_msec=40
            )
            try:
                stream = _stream(data, done)
                next(stream)
                device.start(stream)
                done.wait(len(data) / 2 / RATE + 1)
            finally:
                device.close()
        except Exception:  # no sound card, no sound server, no library: the eyes still have it
            self._no_sound = True


def can_sound() -> bool:
    """Whether there may be something to play on. Without a look, Linux's library writes its search to the terminal."""
    if sys.platform != "linux":
        return True
    run = Path(os.environ.get("XDG_RUNTIME_DIR") or "/nowhere")
    served = "PULSE_SERVER" in os.environ or any((run / s).exists() for s in ("pulse/native", "pipewire-0"))
    return served or any(Path("/dev/snd").glob("pcm*p"))


def _stream(data: bytes, done: Event) -> Any:
    """miniaudio asks for so many frames at a time."""
    at = 0
    wanted = yield b""
    while at < len(data):
        chunk = data[at : at + 2 * wanted]
        at += len(chunk)
        wanted = yield chunk
    done.set()
