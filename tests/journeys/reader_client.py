"""A screen reader at work, without a voice: run by the system's Python, which has the accessibility bus's binding.

`reader_client.py STEPS COMMAND...` starts the program, then takes one step after the other from a file of JSON and
prints what it found as JSON: every step waits for its condition, by the bus's own events. Needs a display, a session
bus, and `gi` with Atspi 2.
"""

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from typing import Any

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402

SECONDS = 20
NEWS = ("object:announcement", "object:property-change:accessible-name", "object:state-changed:showing")
Node = Any


class Reader:
    """Notes what is announced, finds what is shown by its name, presses and types."""

    def __init__(self) -> None:
        self.heard: list[str] = []
        self._context = GLib.MainContext.default()
        self._listener = Atspi.EventListener.new(self._hear)
        for news in NEWS:
            assert self._listener.register(news), news

    def _hear(self, event: Any) -> None:
        if event.type.startswith("object:announcement"):
            self.heard.append(event.any_data)

    def until(self, what: str, done: Callable[[], Any]) -> Any:
        """What `done` gives once it gives anything; asked again at each event of the bus, and ten times a second."""
        over: list[bool] = []
        GLib.timeout_add_seconds(SECONDS, lambda: over.append(True))
        tick = GLib.timeout_add(100, lambda: True)
        try:
            while True:
                try:
                    found = done()
                except GLib.Error:  # what was looked at is gone: look again
                    found = None
                if found:
                    return found
                if over:
                    raise TimeoutError(f"{what}; heard {self.heard}; there is: {'; '.join(self.names())}")
                self._context.iteration(True)
        finally:
            GLib.source_remove(tick)

    def nodes(self) -> Iterator[Node]:
        """All that is shown, in the order of the tree."""
        desktop = Atspi.get_desktop(0)
        for i in range(desktop.get_child_count()):
            program = desktop.get_child_at_index(i)
            if program is not None and program.get_name() == "plugface":
                yield from self._below(program)

    def _below(self, node: Node) -> Iterator[Node]:
        for i in range(node.get_child_count()):
            child = node.get_child_at_index(i)
            if child is not None and child.get_state_set().contains(Atspi.StateType.SHOWING):
                yield child
                yield from self._below(child)

    def names(self) -> list[str]:
        return [n.get_name() for n in self.nodes() if n.get_name()]

    def find(self, name: str) -> Node:
        return self.until(f"no {name!r}", lambda: next((n for n in self.nodes() if n.get_name() == name), None))

    # ---- steps

    def see(self, name: str) -> list[Any]:
        """Role, description, and whether it is checked."""
        node = self.find(name)
        return [node.get_role_name(), node.get_description(), node.get_state_set().contains(Atspi.StateType.CHECKED)]

    def label(self, start: str) -> str:
        """The text that begins so."""
        found: str = self.until(f"no {start!r}", lambda: next((n for n in self.names() if n.startswith(start)), None))
        return found

    def table(self, name: str) -> list[list[str]]:
        """Every cell, row by row, as it is spoken."""
        table = self.find(name).get_table_iface()
        across, down = range(table.get_n_columns()), range(table.get_n_rows())
        return [[table.get_accessible_at(r, c).get_name() for c in across] for r in down]

    def press(self, name: str) -> None:
        node = self.find(name)
        actions = node.get_action_iface()
        known = [actions.get_action_name(i) for i in range(actions.get_n_actions())]
        assert actions.do_action(known.index("Press")), (name, known)

    def type(self, name: str, text: str) -> None:
        """Keys, as a keyboard sends them, into a field that took the focus."""
        field = self.find(name)
        assert field.get_component_iface().grab_focus()
        self.until("no focus", lambda: field.get_state_set().contains(Atspi.StateType.FOCUSED))
        self._keys("type", text)
        self.until(f"{text!r} does not arrive", lambda: field.get_text_iface().get_text(0, -1) == text)
        self._keys("key", "Return")

    def _keys(self, *what: str) -> None:
        subprocess.run(["xdotool", *what], check=True, timeout=SECONDS)

    def hear(self, text: str) -> str:
        """The next announcement that has this in it; those before it are passed over."""

        def next_one() -> str | None:
            while self.heard:
                if text in (said := self.heard.pop(0)):
                    return said
            return None

        found: str = self.until(f"{text!r} is never announced", next_one)
        return found


def take_window(reader: Reader) -> None:
    """There is no window manager here to give a window the keys."""

    def taken() -> bool:
        got = subprocess.run(["xdotool", "search", "--onlyvisible", "--name", "on the bench"], capture_output=True)
        ids = got.stdout.split()
        return bool(ids) and subprocess.run(["xdotool", "windowfocus", "--sync", ids[0]]).returncode == 0

    reader.until("no window", taken)


def main() -> int:
    with open(sys.argv[1], encoding="utf-8") as file:
        steps = json.load(file)
    reader = Reader()
    program = subprocess.Popen(sys.argv[2:])
    found: list[Any] = []
    try:
        take_window(reader)
        for step, *told in steps:
            # what an earlier step found can be asked for by its place
            said = [str(found[t["found"]]).rpartition(" ")[2] if isinstance(t, dict) else t for t in told]
            found.append(getattr(reader, step)(*said))
    finally:
        program.terminate()
        program.wait(SECONDS)
    sys.stdout.write(json.dumps(found) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
