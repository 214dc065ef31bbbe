"""The check code on a card: stable, short, and telling what has changed since."""

import hashlib
from dataclasses import replace
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.db.invented import DECIDED, HEAD_OF_SHEET, JOB, PATTERN, READINGS, START, UNIT
from tests.sitting.fakes import bench_file, bench_of, sound
from workbench.cards.check import ALPHABET, Compared, Standing, asserted, check_code, compare
from workbench.cards.sayings import scan_words
from workbench.cards.scan import NoCardError, Scanned, card_text, read_card
from workbench.records import BenchFile, Outcome, PatternRevision, TemperatureSource
from workbench.sitting.bench import Bench
from workbench.sitting.card import asserts_of, file_of
from workbench.stator.sheet import Conditions


def read() -> Bench:
    bench, _ = bench_of()
    for pair in bench.sheet().plan[:3]:
        bench.pick(pair)
        bench.enter(sound(bench, pair))
    return bench


WRITTEN_DOWN = """\
["plugface card",1]
["sheet","00000000-0000-05ed-0000-000000000007"]
["tag","KL-0148"]
["pattern","two coils on a common pin",1]
["meter","bench meter, yellow",20000000.0,[[200.0,0.1,0.8,3.0],[2000.0,1.0,0.8,3.0],[20000000.0,10000.0,1.0,3.0]]]
["part",21.5,3.0,"room"]
["leads",0.2,0.05,false]
["iron",0.3]
["reading",1,"P.1","P.3","1k2",1200.0,null,"undone"]
["reading",2,"P.1","P.3"," 247 ",247.0,2000.0,null]
["reading",3,"P.3","P.2","31,4",31.4,null,null]
["reading",4,"P.1","core","OL",null,20000000.0,null]
["verdict","good"]
["decided","pass","warm check \\u2014 next visit"]
["found",""]
["done",""]"""


def kept() -> BenchFile:
    revision = PatternRevision(uuid4(), uuid4(), 1, PATTERN, START)
    decided = replace(DECIDED, note="warm check — next visit")
    return BenchFile(UNIT, JOB, revision, HEAD_OF_SHEET, READINGS, decided)


def test_the_text_is_the_one_that_is_written_down() -> None:
    assert asserted(kept(), "good") == WRITTEN_DOWN
    assert asserted(replace(kept(), readings=READINGS[::-1]), "good") == WRITTEN_DOWN  # by place, however they come
    assert check_code(WRITTEN_DOWN) == "83ABSP0VS7"  # cards with it hang on parts: it never changes


def test_the_code_is_the_first_fifty_bits_of_sha_256_in_crockfords_base_32() -> None:
    # the digest by hashlib, the digits one by one
    bits = "".join(f"{b:08b}" for b in hashlib.sha256(b"abc").digest())[:50]
    assert check_code("abc") == "".join(ALPHABET[int(bits[i : i + 5], 2)] for i in range(0, 50, 5))
    assert check_code("abc") == "Q9W1DFWF07"  # by hand from the digest that FIPS 180 prints: ba7816bf 8f01cfea ...


def test_as_printed_until_something_changes() -> None:
    bench = read()
    then = asserts_of(file_of(bench))
    assert compare(check_code(then), asserts_of(file_of(bench)), [then]) == Compared(Standing.AS_PRINTED)
    assert scan_words(Compared(Standing.AS_PRINTED)) == "The card says what the sheet says."


def test_what_changed_since_is_counted() -> None:
    bench = read()
    then = asserts_of(file_of(bench))
    bench.undo()
    bench.undo()
    pair = bench.sheet().plan[4]
    bench.pick(pair)
    bench.enter(sound(bench, pair))
    bench.decide(Outcome.REPAIR, "splice")
    bench.change_conditions(replace(bench.head, iron_ohms=0.4))
    found = compare(check_code(then), asserts_of(file_of(bench)), ["", then])
    assert found.standing is Standing.OUTDATED
    said = scan_words(found)
    assert "1 reading was taken, 2 readings were struck" in said
    assert "temperature, meter or iron were changed, what was decided or done was changed since." in said


def test_an_altered_card_is_no_card_of_the_shops() -> None:
    bench = read()
    now = asserts_of(file_of(bench))
    assert compare("0000000000", now, [now, ""]).standing is Standing.FOREIGN


@pytest.mark.parametrize(
    "other",
    [
        lambda f: replace(f, unit=replace(f.unit, tag="T-0002")),
        lambda f: replace(f, revision=replace(f.revision, number=9)),
        lambda f: replace(f, sheet=replace(f.sheet, meter_zeroed=True)),
        lambda f: replace(f, job=replace(f.job, done="sleeved")),
        lambda f: replace(f, job=replace(f.job, found="burnt")),
        lambda f: replace(f, decided=None),
        lambda f: replace(f, decided=replace(f.decided, outcome=Outcome.SCRAP)),
        lambda f: replace(f, decided=replace(f.decided, note="")),
        lambda f: replace(f, readings=f.readings[:-1]),
        lambda f: replace(f, readings=tuple(replace(k, strike=None) for k in f.readings)),
        lambda f: replace(f, readings=(*f.readings[:-1], replace(f.readings[-1], typed="1."))),
        lambda f: replace(f, sheet=replace(f.sheet, conditions=Conditions(21.6, 3.0, 0.2, 0.05))),
        lambda f: replace(f, sheet=replace(f.sheet, iron_ohms=None)),
        lambda f: replace(f, sheet=replace(f.sheet, source=TemperatureSource.PROBE)),
    ],
)
def test_whatever_a_card_says_is_in_its_code(other) -> None:  # type: ignore[no-untyped-def]
    assert check_code(asserted(other(kept()), "good")) != check_code(asserted(kept(), "good"))
    assert check_code(asserted(kept(), "fail")) != check_code(asserted(kept(), "good"))


def test_a_note_is_not_on_the_card_and_not_in_its_code() -> None:
    file = bench_file()
    assert asserts_of(
        replace(file, sheet=replace(file.sheet, note="n", started_at=datetime(2020, 1, 1, tzinfo=UTC)))
    ) == (asserts_of(file))


TAGS = st.text(st.characters(codec="ascii", exclude_categories=["Cc"]), min_size=1, max_size=60).filter(
    lambda t: t == t.strip() and t and "  " not in t
)


@given(tag=TAGS, sheet=st.uuids(), bits=st.integers(0, 2**50 - 1), lower=st.booleans())
def test_a_cards_text_reads_back_however_it_is_typed(tag, sheet, bits, lower) -> None:  # type: ignore[no-untyped-def]
    code = "".join(ALPHABET[bits >> 5 * i & 31] for i in reversed(range(10)))
    text = card_text(tag, sheet, code)
    head, _, tail = text.rpartition(f" {tag} ")
    if lower:
        head, tail = head.lower().replace("plugface", "Plugface"), tail.lower()
    typed = f"{head} {tag} {tail}"
    assert read_card(typed) == Scanned(tag, sheet, code)


@given(text=st.text(max_size=200) | st.from_regex(r"PLUGFACE [0-9]{1,5}( [ -~]{0,40}){0,5}", fullmatch=True))
def test_no_text_breaks_it(text: str) -> None:
    try:
        found = read_card(text)
    except NoCardError:
        return
    assert found is None or found.tag


def test_a_card_of_a_later_format_is_told_from_a_garbled_one() -> None:
    with pytest.raises(NoCardError) as e:
        read_card("PLUGFACE 7 K-1 x y")
    assert e.value.newer
    with pytest.raises(NoCardError) as e:
        read_card("PLUGFACE 2 K-1 x y")
    assert not e.value.newer
