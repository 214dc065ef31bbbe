"""Commands; nothing else. Each imports only what it needs."""

import argparse
import sys
from datetime import date
from pathlib import Path

MOST_UNITS = 99_999


def main(argv: list[str] | None = None) -> int:
    parser = _parser()
    args = parser.parse_args(argv)
    if args.command == "demo" and args.no_window and args.store is None:
        parser.error("--no-window only writes the demo shop: say where with --store.")
    match args.command:
        case "judge":
            return _judge(args.store)
        case "which":
            return _which(args.library)
        case "demo":
            return _demo(args)
        case "pictures":
            return _pictures(args.to)
        case _:
            return _bench(args.store)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="plugface",
        description="The bench program of a small powersports electrical shop. Without a command it opens the shop.",
    )
    parser.add_argument("--store", metavar="URL", help="the store to open, as sqlite:///path or a file's path")
    commands = parser.add_subparsers(dest="command", title="commands", metavar="")
    judge = commands.add_parser("judge", help="judge sheets: JSON Lines on standard input, answers on standard output")
    # without a default of their own, so that one given before the command stands
    judge.add_argument(
        "--store", metavar="URL", default=argparse.SUPPRESS, help="a store to read patterns and odds from"
    )
    which = commands.add_parser("which", help="which pattern an unknown part is of: JSON Lines, as judge takes them")
    which.add_argument("--library", metavar="FILE", type=Path, required=True, help="the patterns, one JSON line each")
    demo = commands.add_parser("demo", help="open the demo shop at the bench; its store is thrown away afterwards")
    demo.add_argument(
        "--store", metavar="URL", default=argparse.SUPPRESS, help="write the demo shop here instead, and keep it"
    )
    demo.add_argument("--to", metavar="DIR", type=Path, help="where pictures and card go when no window can open")
    demo.add_argument("--no-window", action="store_true", help="only write it, where --store says")
    demo.add_argument("--units", metavar="N", type=_units, help="how many units are in it; 64 unless told otherwise")
    demo.add_argument("--seed", metavar="N", type=int, help="what it is drawn from: another number, another shop")
    demo.add_argument("--date", metavar="YYYY-MM-DD", type=_day, help="the day it is written for; today unless told")
    pictures = commands.add_parser("pictures", help="draw every screen of the demo shop as PNG, and a card as PDF")
    pictures.add_argument("--to", metavar="DIR", type=Path, required=True)
    return parser


def _judge(store: str | None) -> int:
    from workbench.exchange.lines import judge_lines
    from workbench.exchange.starters import starter_pattern
    from workbench.findings.odds import Counts, family_of, odds
    from workbench.stator.pattern import Pattern

    kept: dict[str, Pattern] = {}
    counts = Counts()
    if store is not None:
        from db.trouble import StoreTrouble
        from workbench.findingwords import counts_words
        from workbench.shop import Shop

        shop = Shop(store)
        try:
            shop.look().result()
            kept = {r.pattern.name: r.pattern for r in shop.patterns().result()}
            counts = shop.found_so_far().result()
        except StoreTrouble as e:
            print(e, file=sys.stderr)
            return 2
        finally:
            shop.close()
        print(counts_words(counts), file=sys.stderr)

    def by_name(name: str) -> Pattern | None:
        return kept.get(name) or starter_pattern(name)

    try:
        well = judge_lines(sys.stdin.buffer, sys.stdout, by_name, lambda p: odds(counts, family_of(p)).priors)
        return 0 if well else 1
    except BrokenPipeError:
        sys.stderr.close()
        return 1


def _which(library: Path) -> int:
    from workbench.exchange.which import LibraryError, library_from_file, which_lines

    try:
        patterns = library_from_file(library)
    except LibraryError as e:
        print(e, file=sys.stderr)
        return 2
    try:
        return 0 if which_lines(sys.stdin.buffer, sys.stdout, patterns) else 1
    except BrokenPipeError:
        sys.stderr.close()
        return 1


def _bench(store: str | None) -> int:
    from workbench import display

    here = display.probe()
    if not here.usable:
        print(f"{here.sentence} Plugface needs a window. Nothing was opened or changed.", file=sys.stderr)
        return 1
    from workbench.window.app import run

    return run(store)


def _demo(args: argparse.Namespace) -> int:
    from demo_shop.run import run, write
    from demo_shop.write import Asked

    asked = Asked(args.units, args.seed, args.date)
    return write(args.store, asked) if args.no_window else run(args.store, args.to, asked)


def _pictures(to: Path) -> int:
    from demo_shop.run import pictures

    return pictures(to)


def _units(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text) <= MOST_UNITS):
        raise argparse.ArgumentTypeError(f"{text!r} is not a number of units from 1 to {MOST_UNITS:,}")
    return int(text)


def _day(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = date.min
    if not 2000 <= day.year <= 2999:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day of this age, written as 2026-03-14")
    return day


if __name__ == "__main__":
    sys.exit(main())
