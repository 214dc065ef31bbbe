"""A burnt part from its rewind to both cards: wound, tested, finished, read by the band that its rewind predicts."""

from io import BytesIO

from pypdf import PdfReader
from PySide6.QtWidgets import QPushButton

from demo_shop.shelf import REWOUND_TAG
from tests.journeys.conftest import Hand
from tests.journeys.screens import at_the_desk
from tests.journeys.soundpart import shown
from tests.journeys.test_rewind import steps_of, wire_of
from tests.window.rewind.byname import place_of, row_of
from workbench.records import CardSize, Outcome, Whose
from workbench.rewind.woundrecord import ORDER, Way, WoundStep
from workbench.sitting.rewindwoundviews import RUN
from workbench.window.bench.dialogs import BackDialog, DecideDialog
from workbench.window.card.dialog import CardDialog
from workbench.window.card.kind import Kind
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.woundpage import WoundPage

TURNS = 34
FIELDS = {
    WoundStep.INSULATION: (("volts", "500"), ("megohms", ">200"), ("insulation_celsius", "19")),
    WoundStep.VARNISH: (("lot", "lot 12"),),
    WoundStep.BAKE: (("bake_celsius", "135"), ("bake_hours", "4")),
}


def wound_of(desk: RewindPage) -> WoundPage:
    return next(p for p in desk.pages if isinstance(p, WoundPage))


def put(hand: Hand, page: WoundPage, name: str, text: str) -> None:
    field = page.fields[name]
    field.clear()  # type: ignore[attr-defined]  # a line
    hand.qtbot.keyClicks(field, text)


def take_wire_and_lay_it(hand: Hand, desk: RewindPage) -> None:
    wire, steps = wire_of(desk), steps_of(desk)
    desk.show_page(place_of("Wire"))
    hand.until(lambda: wire.table.ranking.rowCount())
    hand.press(wire.take)
    desk.show_page(place_of("Steps"))
    while row_of(desk, "Steps").detail != "12 of 12 wound":
        hand.press(steps.wound)


def wind(hand: Hand, desk: RewindPage) -> WoundPage:
    """All of the page As wound but the run, which comes later."""
    desk.show_page(place_of("As wound"))
    page = wound_of(desk)
    for coil in page.desk.asked:
        if page.desk.work.coil(coil.spot) is None:
            page.desk.choose(coil.spot)
            put(hand, page, "turns", str(TURNS))
            hand.press(page.coils.note)
    for coil in page.desk.asked:
        page.desk.choose(coil.spot)
        hand.press(page.ways[Way.CLOCKWISE if coil.sense == 1 else Way.ANTICLOCKWISE])
    while page.desk.step != RUN:
        for name, text in FIELDS.get(page.desk.step, ()):  # type: ignore[call-overload]  # a step until the run
            put(hand, page, name, text)
        hand.press(page.steps.tick)
    assert len(page.desk.work.done) == len(ORDER)
    return page


def read_all(hand: Hand) -> None:
    """Leads and iron first, then every planned check as it should be."""
    bench = hand.bench
    hand.press(hand.page.zero)
    for text in ("0.0001", "0.3"):
        hand.type(text)
    assert bench.head.iron_ohms == 0.3
    for pair in bench.sheet().plan:
        bench.pick(pair)
        hand.type(shown(bench, pair) or "OL")
    hand.safe()


def card_text(hand: Hand, whose: Whose) -> str:
    card = hand.window.card_dialog
    assert isinstance(card, CardDialog)
    kind = Kind.SHOP if whose is Whose.SHOP else Kind.CUSTOMER
    card.kinds.setCurrentText(str(kind))
    card.sizes.setCurrentIndex(list(CardSize).index(CardSize.STAND))
    hand.until(lambda: card.print_button.isEnabled() and card.kind is kind)
    return " ".join(" ".join(p.extract_text() for p in PdfReader(BytesIO(card.drawn.pdf)).pages).split())


def test_from_a_burnt_part_to_both_cards(demo: Hand) -> None:
    desk = at_the_desk(demo, REWOUND_TAG)
    before = demo.bench
    take_wire_and_lay_it(demo, desk)
    page = wind(demo, desk)
    left = {s.id: s.grams for s in desk.rewinding.spools}
    demo.press(page.steps.finish)
    assert "not run on the machine" in desk.said.sentence
    assert not desk.rewinding.done
    demo.press(next(b for b in desk.said.findChildren(QPushButton) if b.text() == "Done all the same"))
    demo.until(lambda: desk.rewinding.done)
    demo.until(lambda: {s.id: s.grams for s in desk.rewinding.spools} != left)
    demo.press(desk.to_bench)
    demo.until(lambda: demo.bench is not before and demo.bench.rewinds)

    # what was read before says nothing of it any more; the next sheet is of the same visit
    old = demo.bench
    number = old.job.number
    demo.press(demo.page.again)
    demo.until(lambda: demo.bench is not old)
    bench = demo.bench
    assert (bench.job.number, bench.decided, len(bench.lines)) == (number, None, 0)
    assert [p.winding for p in bench.head.predicted] == ["phase 1", "phase 2", "phase 3"]
    read_all(demo)
    assert demo.page.top.verdict.word == "GOOD"
    assert demo.page.top.progress.text().endswith("not run on the machine")
    bench.pick(bench.sheet().plan[0])
    assert demo.page.band.band.text().endswith("by its rewind")

    demo.press(demo.page.decide_button)
    demo.until(lambda: isinstance(demo.page.dialog, DecideDialog))
    dialog = demo.page.dialog
    assert isinstance(dialog, DecideDialog)
    dialog.choices[Outcome.PASS].setChecked(True)
    dialog.accept()
    demo.until(lambda: bench.decided is not None)
    demo.press(demo.page.card)
    demo.until(lambda: demo.window.card_dialog is not None)
    customer = card_text(demo, Whose.CUSTOMER)
    assert "not run on the machine" in customer
    assert "Wound anew: all three phases" in customer
    shop = card_text(demo, Whose.SHOP)
    for told in ("34 turns", "lot 12", "baked 240 min"):
        assert told in shop
        assert told not in customer
    demo.window.card_dialog.reject()  # type: ignore[union-attr]  # it was there just now

    # it runs: that is written down of the rewind, finished as it is, and nothing is lacking any more
    demo.press(demo.page.rewind)
    demo.until(lambda: demo.window.rewinds.page)
    again = demo.window.rewinds.page
    assert again is not None
    again.show_page(place_of("As wound"))
    page = wound_of(again)
    page.desk.look_at(RUN)
    page.steps.inputs.ran.setCurrentText("ran well")
    put(demo, page, "seen", "14.1 V at 3000")
    demo.press(page.steps.tick)
    demo.press(again.to_bench)
    demo.until(lambda: demo.bench is not bench)
    assert demo.page.top.verdict.word == "GOOD"
    assert "run" not in demo.page.top.progress.text()

    # it comes back one day: the desk knows what this shop wound it of
    gone = demo.bench
    demo.press(demo.page.again)
    demo.until(lambda: isinstance(demo.page.dialog, BackDialog))
    assert isinstance(demo.page.dialog, BackDialog)
    demo.qtbot.keyClicks(demo.page.dialog.complaint, "burnt again")
    demo.page.dialog.accept()
    demo.until(lambda: demo.bench is not gone)
    assert demo.bench.job.number != number
    demo.press(demo.page.rewind)
    demo.until(lambda: demo.window.rewinds.page)
    back = demo.window.rewinds.page
    assert back is not None
    back.show_page(place_of("Wire"))
    wire = wire_of(back)
    assert (wire.gauge.text(), wire.turns.text()) == ("AWG 17", str(TURNS))
    assert "on an earlier visit" in wire.note.text()


def test_a_reversed_coil_fails_a_part_that_reads_as_it_should(demo: Hand) -> None:
    desk = at_the_desk(demo, REWOUND_TAG)
    before = demo.bench
    take_wire_and_lay_it(demo, desk)
    page = wind(demo, desk)
    page.desk.choose(page.desk.asked[6].spot)
    wrong = Way.ANTICLOCKWISE if page.desk.asked[6].sense == 1 else Way.CLOCKWISE
    demo.press(page.ways[wrong])
    assert "a coil is reversed" in page.steps.lacks.text()
    demo.press(page.steps.finish)
    demo.press(next(b for b in desk.said.findChildren(QPushButton) if b.text() == "Done all the same"))
    demo.until(lambda: desk.rewinding.done)
    demo.press(desk.to_bench)
    demo.until(lambda: demo.bench is not before and demo.bench.rewinds)
    old = demo.bench
    demo.press(demo.page.again)
    demo.until(lambda: demo.bench is not old)
    read_all(demo)
    assert (demo.page.top.verdict.word, demo.page.top.progress.text()) == ("FAIL", "a coil is reversed")
