"""The demo: the invented shop, opened at the bench; without a window, as pictures and a card."""

import os
import sys
import tempfile
from pathlib import Path
from time import monotonic

from demo_shop.build import PracticePart, bench_part
from demo_shop.roll import UNITS
from demo_shop.story import BENCH_TAG, SHOP_NAME
from demo_shop.write import PLAIN, Asked, write_demo, written_before
from workbench import display
from workbench.records import now
from workbench.shop import Shop

SECONDS_BETWEEN_NEWS = 5.0


def run(url: str | None, to: Path | None, asked: Asked = PLAIN) -> int:
    from db.trouble import StoreTrouble

    with tempfile.TemporaryDirectory(prefix="plugface-demo-store-", ignore_cleanup_errors=True) as folder:
        store = url or str(Path(folder) / "demo.sqlite")
        try:
            if url is None or asked != PLAIN or not written_before(store):
                write_demo(store, asked)
        except StoreTrouble as e:
            print(e, file=sys.stderr)
            return 1
        here = display.probe()
        if not here.usable:
            return _unseen(here.sentence, store, to, qt=here.qt)
        from workbench.window.app import run as run_window

        practice = PracticePart(bench_part())
        return run_window(
            store,
            shop_name=f"{SHOP_NAME} (demo)",
            start_tag=BENCH_TAG,
            practice=(BENCH_TAG, practice.shows),
            otherwise=lambda sentence: _unseen(sentence, store, to, qt=True),
        )


def write(url: str, asked: Asked) -> int:
    """Only writes the shop, and says how it goes."""
    from db.trouble import StoreTrouble

    began = monotonic()
    said = began

    def tell(done: int, of: int) -> None:
        nonlocal said
        if monotonic() - said > SECONDS_BETWEEN_NEWS:
            said = monotonic()
            print(f"{done:,} of {of:,} jobs are written.", file=sys.stderr, flush=True)

    try:
        write_demo(url, asked, tell)
    except StoreTrouble as e:
        print(e, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print(f"Stopped. Nothing of the demo shop is left in {url}.", file=sys.stderr)
        return 130
    units = asked.units or UNITS
    many = "1 unit" if units == 1 else f"{units:,} units"
    print(f"The demo shop stands in {url}, with {many}. It took {monotonic() - began:.1f} s.")
    return 0


def pictures(to: Path) -> int:
    """Every screen and a card, drawn unseen."""
    from db.trouble import StoreTrouble

    here = display.probe()
    if not here.qt:
        print(f"{here.sentence} Without Qt there are no screens to draw.", file=sys.stderr)
        return 1
    try:
        _draw(to)
    except StoreTrouble as e:
        print(e, file=sys.stderr)
        return 1
    except OSError as e:
        return _no_place(to, e)
    print(f"Every screen of the demo, and its card, are in {to}")
    return 0


def _unseen(sentence: str, store: str, to: Path | None, *, qt: bool) -> int:
    folder = to or Path(tempfile.mkdtemp(prefix="plugface-demo-"))
    try:
        if qt:
            _draw(folder, plain=True)
        else:
            _write_card(store, folder)
    except OSError as e:
        return _no_place(folder, e)
    what = "Instead of a window, every screen (PNG) and a card (PDF) are" if qt else "The card (PDF) is"
    print(f"{sentence} {what} in {folder}")
    return 0


def _no_place(to: Path, error: OSError) -> int:
    print(f"{to} can't be written to ({error.strerror}). Name another folder.", file=sys.stderr)
    return 1


def _draw(to: Path, *, plain: bool = False) -> None:
    """Every screen and the card, from a demo store of its own. `plain`: light and dark alone."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from demo_shop.pictures import PLAIN, WAYS, draw_all

    to.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="plugface-demo-store-", ignore_cleanup_errors=True) as folder:
        store = Path(folder) / "demo.sqlite"
        write_demo(str(store))
        draw_all(store, to, PLAIN if plain else WAYS)
        _write_card(str(store), to)


def _write_card(store: str, to: Path) -> None:
    """The card of the failing part, read to its end by the same sitting as in the window."""
    from demo_shop.reader import read_part
    from workbench.cards import make_card
    from workbench.sitting.card import card_facts

    to.mkdir(parents=True, exist_ok=True)
    shop = Shop(store)
    try:
        shop.open().result()
        bench = read_part(shop, BENCH_TAG)
    finally:
        shop.close()
    (to / f"card-{BENCH_TAG}.pdf").write_bytes(make_card(card_facts(bench, now().astimezone())))
