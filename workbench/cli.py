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
        case "patterns":
            return _patterns(args)
        case "rewind":
            return _rewind()
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
    _patterns_parser(commands.add_parser("patterns", help="patterns as files: written, taken in, looked through"))
    commands.add_parser(
        "rewind",
        help="wire, coils and layouts for a rewind: JSON Lines, an ask each",
        description="Reads JSON Lines on standard input and answers a line each on standard output. Every line names "
        "its ask: wire, coil, strip, layout or substitute. Exit status 1 if a line was refused.",
    )
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


def _patterns_parser(patterns: argparse.ArgumentParser) -> None:
    does = patterns.add_subparsers(dest="does", title="commands", metavar="", required=True)
    out = does.add_parser("export", help="write the shop's patterns, the latest revision of each, as files")
    out.add_argument("names", metavar="NAME", nargs="*", help="which; all of them unless told")
    out.add_argument(
        "--to", metavar="PATH", type=Path,
        help="a folder, or a file: .json for one, .jsonl for one a line; standard output, one a line, unless told",
    )  # fmt: skip
    out.add_argument("--replace", action="store_true", help="write over files that say something else")
    taken = does.add_parser("import", help="take patterns into the shop: all of them, or none")
    taken.add_argument(
        "--as-revision", action="store_true", help="those that the shop has otherwise become its next revisions"
    )
    check = does.add_parser("check", help="say what is wrong with pattern files, and what they can't show")
    check.add_argument("--strict", action="store_true", help="tell by the exit, too, of what should be mended")
    for reads in (taken, check):
        reads.add_argument(
            "paths", metavar="FILE", nargs="+", type=Path, help="a .json or .jsonl file, or a folder of them"
        )
    for which, why in (
        (out, "the store to read"), (taken, "the store to write to"), (check, "a store whose meters are to judge them")
    ):  # fmt: skip
        which.add_argument("--store", metavar="URL", default=argparse.SUPPRESS, help=why)


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


def _patterns(args: argparse.Namespace) -> int:
    from workbench import patternscommand

    try:
        match args.does:
            case "export":
                return patternscommand.export(args.store, args.names, args.to, replace=args.replace)
            case "import":
                return patternscommand.bring_in(args.store, args.paths, as_revisions=args.as_revision)
            case _:
                return patternscommand.check(args.store, args.paths, strict=args.strict)
    except BrokenPipeError:
        sys.stderr.close()
        return 1


def _rewind() -> int:
    from workbench.exchange.rewind import rewind_lines

    try:
        return 0 if rewind_lines(sys.stdin.buffer, sys.stdout) else 1
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
