"""What the pattern desk works out after each edit: the proof, the checks, ohms from a unit. Reported, never asserted.

    python -m tests.benchmarks.bench_drafting

A frame is 16 ms; the peer, in the same run, is `stator.expect` alone on all of a pattern's pairs.
"""

import time
from collections.abc import Callable

from workbench.drafting.checks import choose_checks
from workbench.drafting.draft import Draft
from workbench.drafting.fromunit import from_unit
from workbench.drafting.prove import prove
from workbench.drafting.seeing import Seeing
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import Cavity, Connector, Winding

METERS = [m for _, m in starter_meters()]


def best(work: Callable[[], object], times: int = 7) -> float:
    """Milliseconds."""
    took = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        took.append(time.perf_counter() - begun)
    return 1e3 * min(took)


def star(n: int) -> Draft:
    """So many windings from one pin of a plug to the others."""
    plug = Connector("P", tuple(Cavity(str(i)) for i in range(n + 1)))
    wound = tuple(Winding(f"w{i}", "P.0", f"P.{i + 1}", ohms=20.0 + i, tolerance_percent=10) for i in range(n))
    return Draft(f"star of {n}", (plug,), wound)


def apart(plugs: int, each: int) -> Draft:
    """Windings of their own, on several plugs."""
    names = [f"{plug}" for plug in range(plugs)]
    faces = tuple(Connector(p, tuple(Cavity(str(i)) for i in range(2 * each))) for p in names)
    wound = tuple(
        Winding(f"w{p}.{i}", f"{p}.{2 * i}", f"{p}.{2 * i + 1}", ohms=20.0 + i, tolerance_percent=10)
        for p in names
        for i in range(each)
    )
    return Draft(f"{plugs} plugs of {each} windings", faces, wound)


def report(name: str, d: Draft) -> float:
    """The proof's milliseconds, printed beside its parts'."""
    pattern = d.pattern()
    seeing = Seeing(pattern)
    read = {p: seeing.ask.of(p).ohms or 0.0 for p in seeing.pairs if seeing.ask.of(p).path is Path.WINDINGS}
    peer = best(lambda: Expectations(pattern).prepare(seeing.pairs))
    proof = best(lambda: prove(d, METERS))
    checks = best(lambda: choose_checks(pattern, seeing))
    unit = f"ohms from a unit {best(lambda: from_unit(d, read)):.1f} ms" if read else "no ohms to take over"
    print(
        f"{name}: proof {proof:.2f} ms ({proof / 16:.2f} frames, {proof / peer:.1f} x its pairs alone), "
        f"checks {checks:.2f} ms, {unit}"
    )
    return proof


def main() -> None:
    proofs = [report(p.name, Draft.of(p)) for p in starter_patterns()]
    print(f"starters: the slowest proof {max(proofs):.2f} ms")
    for d in (star(16), star(64), apart(8, 8)):
        report(d.name, d)


if __name__ == "__main__":
    main()
