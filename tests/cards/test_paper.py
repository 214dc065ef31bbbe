"""The card as it lies in the hand: read back from the PDF and from its picture."""

import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO

import pypdf
import pypdfium2
import pytest
import zxingcpp
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from tests.cards.making import METER, SHEET_ID, SOUND, facts, judged, many_coils
from tests.cards.test_content import SHORTED
from workbench.cards import CardFacts, make_card
from workbench.cards.cautions import shipped_cautions
from workbench.cards.content import CardContent, card_content
from workbench.cards.fonts import REPLACEMENT, glyphs, printable, width
from workbench.cards.marks import Disc, Page, Rule, Squares, Text
from workbench.cards.paper import card_pages, card_pdf
from workbench.cards.scan import Scanned, read_card
from workbench.cards.stock import MM, SMALLEST, STOCKS
from workbench.cards.winding import WindingData
from workbench.records import CardSize, Whose
from workbench.stator.errors import FieldError
from workbench.stator.layout import Wire
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions

LONG_LABEL = "Trailer-park loaner, grey hood, spare stator from third shelf"
LONG_NOTE = ("lead at B 1 soldered again and sleeved, third tooth looked at under the lamp, varnish sound; " * 3)[:200]

CASES: dict[str, CardFacts] = {
    "good": facts(),
    "fail": facts(
        judged(SHORTED),
        label=LONG_LABEL,
        note=LONG_NOTE,
        found="burnt smell",
        done="nothing touched yet",
        struck=((Pair("B.1", "B.2"), "3.09k", "typed kilo for ohm"),),
        copy=2,
        first_made_at=datetime(2026, 3, 14, 8, 0, tzinfo=UTC),
        whose=Whose.SHOP,
        windings=(
            WindingData("main exciter", (4,), 0, (Wire.FINE,), (1850,), "AWG 35"),
            WindingData("charging", (1, 2, 3, 5, 6, 7), 0, (Wire.HEAVY,), (38,), "0.9 mm"),
        ),
    ),
    "unfinished": facts(judged((*SOUND[:5], ("A.3", "B.3", 9.2)), iron=False), outcome=None, iron_ohms=None),
    "forty": facts(judged(tuple(("P.0", f"P.{n}", 100.7 + n) for n in range(1, 41)), many_coils(40))),
    "unbroken": facts(tag="WINTER-STOCK-" * 4, label="L" * 150, complaint="c" * 200, note="n" * 400),
    "empty": facts(judged(()), complaint="", label=""),
}


def content(given: CardFacts) -> CardContent:
    return card_content(given, shipped_cautions())


def words_of(text: str) -> list[str]:
    return text.replace("\u00a0", " ").split()


def read_back(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(pdf)).pages)


def pictures(pdf: bytes, dots: int = 203) -> list[Image.Image]:
    document = pypdfium2.PdfDocument(pdf)
    out = [page.render(scale=dots / 72).to_pil().convert("L") for page in document]
    document.close()
    return out


def boxes(page: Page) -> list[tuple[Text, float, float, float, float]]:
    """Each text with the box its letters fill: left, bottom, right, top."""
    return [
        (m, m.x, m.y - 0.2 * m.size, m.x + width(m.words, m.weight, m.size), m.y + 0.7 * m.size)
        for m in page.marks
        if isinstance(m, Text) and m.words
    ]


SIZES = list(CardSize)


def assert_sound(pages: list[Page], size: CardSize = CardSize.STAND) -> None:
    stock = STOCKS[size]
    for page in pages:
        assert (page.width, page.height) == stock.size
        found = boxes(page)
        for text, left, bottom, right, top in found:
            assert left >= stock.margin - 0.01, text
            assert right <= page.width - stock.margin + 0.01, text
            assert bottom >= stock.margin - 0.6, text
            assert top <= page.height - stock.margin + 0.01, text
            assert text.size >= SMALLEST, text
        code = [m for m in page.marks if isinstance(m, Squares)]
        for squares in code:
            low, left = min(y for _, y, _ in squares.runs), min(x for x, _, _ in squares.runs)
            quiet = 4 * squares.size
            high = max(y for _, y, _ in squares.runs) + squares.size
            near = [
                t
                for t, _, bottom, right, top in found
                if right > left - quiet + 0.01 and top > low - quiet + 0.01 and bottom < high + quiet - 0.01
            ]
            assert not near
        for i, (one, left, bottom, right, top) in enumerate(found):
            for other, l2, b2, r2, t2 in found[i + 1 :]:
                apart = right <= l2 + 0.01 or r2 <= left + 0.01 or top <= b2 + 0.01 or t2 <= bottom + 0.01
                assert apart, (one, other)


def assert_all_said(card: CardContent, pages: list[Page]) -> None:
    """Every word of the content stands on the pages, in as many places (broken words are put together again)."""
    printed = "".join(m.words for p in pages for m in p.marks if isinstance(m, Text)).replace(" ", "")
    squeezed = printed.replace("\u00a0", "")
    left = [printable(w).replace(" ", "") for t in card.texts for w in words_of(t)]
    for word in left:
        assert word in squeezed, word


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("case", CASES)
def test_every_word_of_the_card_can_be_read_back_from_its_file(case: str, size: CardSize) -> None:
    card = content(CASES[case])
    text = "".join(words_of(read_back(make_card(CASES[case], size))))
    missing = [w for t in card.texts for w in words_of(t) if w not in text]
    assert not missing


@pytest.mark.parametrize("size", SIZES)
def test_the_verdict_is_the_first_thing_and_by_far_the_largest(size: CardSize) -> None:
    for case in CASES.values():
        texts = [m for m in card_pages(content(case), size)[0].marks if isinstance(m, Text)]
        assert texts[0].words in ("GOOD", "FAIL", "NOT PROVED")
        assert texts[0].size > 1.2 * max(t.size for t in texts[1:])
        assert read_back(make_card(case, size)).lstrip().startswith(texts[0].words)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("case", CASES)
def test_nothing_overruns_or_overlaps(case: str, size: CardSize) -> None:
    assert_sound(card_pages(content(CASES[case]), size), size)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("case", CASES)
def test_no_ink_lies_outside_the_margin(case: str, size: CardSize) -> None:
    for picture in pictures(make_card(CASES[case], size)):
        edge = int((STOCKS[size].margin - 0.2 * MM) * 203 / 72)
        wide, tall = picture.size
        for box in ((0, 0, wide, edge), (0, tall - edge, wide, tall), (0, 0, edge, tall), (wide - edge, 0, wide, tall)):
            assert picture.crop(box).getextrema()[0] > 250
        assert picture.getextrema()[0] < 50


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("tag", ["KL-0147", "Ä-7", "a tag with spaces in it", "x" * 60])
def test_the_square_code_reads_as_tag_sheet_and_check_at_a_tag_printers_dots(tag: str, size: CardSize) -> None:
    given = facts(tag=tag)
    picture = pictures(make_card(given, size))[0]
    thermal = picture.point(lambda v: 255 if v > 127 else 0)
    (code,) = zxingcpp.read_barcodes(thermal)
    assert read_card(code.text) == Scanned(tag, SHEET_ID, given.check)


@pytest.mark.parametrize(("tag", "least"), [("KL-0147", 4), ("x" * 60, 2)])
def test_the_square_code_is_drawn_in_whole_dots_of_a_tag_printer(tag: str, least: int) -> None:
    (code,) = (m for m in card_pages(content(facts(tag=tag)))[0].marks if isinstance(m, Squares))
    dots = code.size / (72 / 203)
    assert dots == pytest.approx(round(dots))
    assert round(dots) >= least


def test_the_same_facts_give_the_same_bytes_in_another_process_too() -> None:
    given = CASES["fail"]
    assert make_card(given) == make_card(given)
    program = (
        "import sys, hashlib; from tests.cards.test_paper import CASES; from workbench.cards import make_card;"
        "print(hashlib.sha256(make_card(CASES['forty']) + make_card(CASES['fail'])).hexdigest())"
    )
    runs = {subprocess.run([sys.executable, "-c", program], capture_output=True, check=True).stdout for _ in range(2)}
    assert len(runs) == 1


def test_another_date_gives_another_card() -> None:
    assert make_card(facts()) != make_card(facts(made_at=datetime(2026, 11, 26, 9, 42, tzinfo=UTC)))


def test_many_readings_continue_on_a_second_card_with_tag_and_verdict() -> None:
    pages = [p.extract_text() for p in pypdf.PdfReader(BytesIO(make_card(CASES["forty"]))).pages]
    assert len(pages) == 2
    assert all(f"card {i} of 2" in text for i, text in enumerate(pages, 1))
    assert all(word in text for text in pages for word in ("GOOD", "KL-0147", "as shown", str(SHEET_ID)))
    assert "check regulator" in pages[0]
    assert "0 – 40" in pages[1]


@pytest.mark.parametrize("size", SIZES)
def test_no_card_begins_its_body_with_a_rule(size: CardSize) -> None:
    """Whatever the break falls on: between two sections it is clear without one."""
    for lines in range(1, 60, 3):
        for page in card_pages(content(facts(note="sleeved " * 6 * lines)), size)[1:]:
            rules = [m.y for m in page.marks if isinstance(m, Rule) and not m.dash and m.x == STOCKS[size].margin]
            head = [m for m in page.marks if isinstance(m, Text) and m.y > max(rules, default=0)]
            assert len([m for m in head if m.words not in ("GOOD", "KL-0147", "Customer’s copy")]) > 1


def test_an_ordinary_part_fits_one_card() -> None:
    assert len(card_pages(content(CASES["good"]))) == 1


@pytest.mark.parametrize(
    ("size", "mm"), [(CardSize.LABEL, (62, 100)), (CardSize.STAND, (100, 150)), (CardSize.TAG, (105, 148))]
)
def test_each_size_is_that_of_its_stock(size: CardSize, mm: tuple[int, int]) -> None:
    (box,) = {tuple(map(float, p.mediabox[2:])) for p in pypdf.PdfReader(BytesIO(make_card(facts(), size))).pages}
    assert [round(side / MM) for side in box] == list(mm)


def test_a_tag_leaves_room_for_its_hole() -> None:
    for page in card_pages(content(CASES["unbroken"]), CardSize.TAG):
        (hole,) = (m for m in page.marks if isinstance(m, Disc) and m.y > page.height - 12 * MM)
        assert hole.radius == pytest.approx(2.5 * MM)
        for _, left, bottom, right, top in boxes(page):
            near_x, near_y = min(max(hole.x, left), right), min(max(hole.y, bottom), top)
            assert (near_x - hole.x) ** 2 + (near_y - hole.y) ** 2 > (hole.radius + 1) ** 2


def test_turns_and_gauge_are_on_the_shops_copy_and_never_on_the_customers() -> None:
    shops = CASES["fail"]
    told = read_back(make_card(shops))
    assert "1850 turns" in told
    assert "AWG 35" in told
    with pytest.raises(FieldError, match="shop's copy alone"):
        replace(shops, whose=Whose.CUSTOMER)
    noted = replace(shops, whose=Whose.CUSTOMER, windings=(), note="wound with 1850 turns of AWG 35; lead resoldered")
    for size in SIZES:
        text = read_back(make_card(noted, size))
        assert "1850" not in text
        assert "AWG" not in text
        assert "lead resoldered" in " ".join(text.split())


@pytest.mark.parametrize("size", SIZES)
def test_a_reprint_says_so_with_the_date_of_its_first(size: CardSize) -> None:
    text = " ".join(read_back(make_card(CASES["fail"], size)).split())
    assert "Reprint: copy 2, the first of 2026-03-14" in text


def test_verdicts_differ_in_shape_not_only_in_word() -> None:
    def ink(case: str) -> float:
        picture = pictures(make_card(CASES[case]))[0].crop((40, 40, 610, 165))
        return 1 - sum(picture.tobytes()) / (255 * picture.width * picture.height)

    assert ink("fail") > 0.7
    assert ink("good") < 0.45
    corner = [pictures(make_card(CASES[c]))[0].crop((40, 40, 60, 60)).getextrema()[0] for c in ("good", "unfinished")]
    assert corner[0] > 200  # the tag's point leaves its corner white
    assert corner[1] < 50


def test_every_character_of_every_text_has_a_glyph() -> None:
    for case in CASES.values():
        texts = [m.words for p in card_pages(content(case)) for m in p.marks if isinstance(m, Text)]
        assert not {c for t in texts for c in t if ord(c) not in glyphs()}
        assert not any(REPLACEMENT in t for t in texts)


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("スレッド 7", "▯▯▯▯ 7"),
        ("sled \U0001f6f7!", "sled ▯!"),
        ("zero\u200bwidth", "zero▯width"),
        ("Bra\u030aten", "Bråten"),
        ("one\ttwo\nthree", "one two three"),
        ("Ω ± ’ –", "Ω ± ’ –"),
    ],
)
def test_what_the_typeface_lacks_is_replaced_visibly(typed: str, printed: str) -> None:
    assert printable(typed) == printed
    assert "".join(printed.split()) in "".join(read_back(make_card(facts(label=typed))).split())


def test_the_replacement_leaves_ink() -> None:
    plain, replaced = (pictures(make_card(facts(label=t)))[0] for t in ("", "\U0001f6f7"))
    assert plain.tobytes() != replaced.tobytes()
    assert printable("\U0001f6f7") == REPLACEMENT
    assert ord(REPLACEMENT) in glyphs()


TYPED = ("label", "complaint", "note", "found", "done", "meter_name", "pattern_name")
TEXTS = st.text(max_size=400) | st.text(st.characters(categories=["Lu", "Ll", "Nd"]), max_size=250)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    tag=st.text(min_size=1, max_size=60),
    texts=st.fixed_dictionaries(dict.fromkeys(TYPED, TEXTS)),
    struck=st.lists(st.tuples(st.just(Pair("B.4", "B.5")), TEXTS, TEXTS), max_size=3).map(tuple),
)
def test_texts_of_any_length_and_script_stay_whole_and_inside(
    tag: str, texts: dict[str, str], struck: tuple[tuple[Pair, str, str], ...]
) -> None:
    card = content(facts(judged(SHORTED), tag=tag, struck=struck, **texts))
    for size in SIZES:
        assert_sound(card_pages(card, size), size)
    assert card_pdf(card).startswith(b"%PDF")


@settings(max_examples=12, deadline=None)
@given(words=st.lists(st.from_regex(r"[a-zA-Z0-9,.;:äöüßéΩ/-]{1,30}", fullmatch=True), max_size=120))
def test_no_word_of_a_long_note_is_lost(words: list[str]) -> None:
    card = content(facts(judged(SHORTED), note=" ".join(words), label=" ".join(words[:12])))
    for size in SIZES:
        assert_all_said(card, card_pages(card, size))


@settings(max_examples=8, deadline=None)
@given(count=st.integers(1, 64), ohms=st.sampled_from([0.0, 104.0, 5e4, 1.234e6]))
def test_any_number_of_readings_stays_inside(count: int, ohms: float) -> None:
    readings = tuple(("P.0", f"P.{n}", ohms) for n in range(1, count + 1))
    card = content(facts(judged(readings, many_coils(count), conditions=Conditions(150, 5))))
    for size in SIZES:
        assert_sound(card_pages(card, size), size)


def test_reportlab_loads_only_when_a_card_is_made() -> None:
    program = "import sys, workbench.cards; print(any(m.startswith('reportlab') for m in sys.modules))"
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "False"


def test_the_meter_of_these_cards_shows_its_last_digit() -> None:
    assert METER.covering(98.9) is not None
    assert "98.9 Ω" in read_back(make_card(facts()))
