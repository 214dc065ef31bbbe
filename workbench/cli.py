"""Commands; nothing else. Each imports only what it needs."""

import argparse
import sys
from pathlib import Path


def main(argv: list[str] | None = None) -> int:
    args = _parser().parse_args(argv)
    match args.command:
        case "judge":
            return _judge(args.store)
        case "demo":
            return _demo(args.store, args.to)
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
    judge.add_argument("--store", metavar="URL", default=argparse.SUPPRESS, help="a store whose patterns may be named")
    demo = commands.add_parser("demo", help="open the demo shop at the bench; its store is thrown away afterwards")
    demo.add_argument(
        "--store", metavar="URL", default=argparse.SUPPRESS, help="write the demo shop here instead, and keep it"
    )
    demo.add_argument("--to", metavar="DIR", type=Path, help="where pictures and card go when no window can open")
    pictures = commands.add_parser("pictures", help="draw every screen of the demo shop as PNG, and a card as PDF")
    pictures.add_argument("--to", metavar="DIR", type=Path, required=True)
    return parser


def _judge(store: str | None) -> int:
    from workbench.exchange.lines import judge_lines
    from workbench.exchange.starters import starter_pattern
    from workbench.stator.pattern import Pattern

    kept: dict[str, Pattern] = {}
    if store is not None:
        from db.trouble import StoreTrouble
        from workbench.shop import Shop

        shop = Shop(store)
        try:
            shop.open(create=False).result()
            kept = {r.pattern.name: r.pattern for r in shop.patterns().result()}
        except StoreTrouble as e:
            print(e, file=sys.stderr)
            return 2
        finally:
            shop.close()

    def by_name(name: str) -> Pattern | None:
        return kept.get(name) or starter_pattern(name)

    try:
        return 0 if judge_lines(sys.stdin.buffer, sys.stdout, by_name) else 1
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


def _demo(store: str | None, to: Path | None) -> int:
    from demo_shop.run import run

    return run(store, to)


def _pictures(to: Path) -> int:
    from demo_shop.run import pictures

    return pictures(to)


if __name__ == "__main__":
    sys.exit(main())
