"""A printed page, drawn and looked at again: sizes, marks, code, and nothing where Halfpan reads."""

import cv2
import numpy as np
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfpan.core.chart.ink import Words
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.layout import rule_swatch_chart
from halfpan.core.chart.mixes import MixLabel, rule_mix_chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.core.chart.tin_sheet import rule_tin_sheet
from halfpan.core.chart.trials import rule_test_chart
from halfpan.core.paint.tin import tin_of_rows
from halfpan.errors import Unwritable
from halfpan.files.pdf import chart_pdf, page_picture, text_width, unprintable, write_chart

SHEETS = ["A5", "A4", "A4 landscape", "A3", "A3 landscape", "A2", "Letter", "Quarter Imperial", "250x350"]


def labels(count=14):
    names = ("Lemon Yellow", "Phthalo Blue, green shade", "Quinacridone Magenta", "Chinese White")
    return [
        BoxLabel(f"P{k + 1}", names[k % 4], ("PY3",), "Old Quarry", "Studio", "Blues" * (k > 5), k % 4 == 3)
        for k in range(count)
    ]


def ruled(sheet="A4", paints=None, **options):
    wanted = labels() if paints is None else paints
    return rule_swatch_chart(
        wanted, sheet=sheet_of(sheet), chart_id="K7Q2M", measure=text_width, title="First chart", **options
    )


def found_marks(picture):
    settings_ = cv2.aruco.DetectorParameters()
    settings_.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    words = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, numbers, _ = cv2.aruco.ArucoDetector(words, settings_).detectMarkers(picture)
    return {int(n): q.reshape(4, 2) for n, q in zip(np.ravel(numbers), corners, strict=True)}


def miss_mm(drawn, picture, dpi):
    """The largest distance of a mark's corner from where the chart says it is; a pixel's middle is at 0.5."""
    marks = found_marks(picture)
    assert sorted(marks) == list(range(8))
    return max(
        np.abs((marks[m.id] + 0.5) * 25.4 / dpi - np.array(m.corners)).max()
        for m in drawn.chart.pages[0].marks
    )


def assert_clean(drawn, picture, dpi):
    for box in drawn.chart.pages[0].boxes:
        for zone in box.zones:
            r, k = zone.rect, dpi / 25.4
            seen = picture[round(r.y * k) : round(r.bottom * k), round(r.x * k) : round(r.right * k)]
            assert seen.size
            assert (seen == (0 if zone.ground == "black" else 255)).all(), (box.box, zone.zone)


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_printed_page_has_its_size_its_marks_its_code_and_clean_zones(sheet):
    drawn, dpi = ruled(sheet), 200
    document = chart_pdf(drawn)
    page = pypdfium2.PdfDocument(document)[0]
    assert np.allclose(
        np.array(page.get_size()) * 25.4 / 72, (drawn.sheet.width_mm, drawn.sheet.height_mm), atol=0.01
    )
    picture = page_picture(document, 1, dpi)
    assert miss_mm(drawn, picture, dpi) < 0.05
    text, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(picture)
    assert text == "HALFPAN K7Q2M 1"
    assert_clean(drawn, picture, dpi)


@pytest.mark.parametrize(("sheet", "dpi"), [("A5", 300), ("A4", 300), ("A5", 600)])
def test_marks_stand_where_the_chart_says_at_finer_resolutions(sheet, dpi):
    drawn = ruled(sheet)
    assert miss_mm(drawn, page_picture(chart_pdf(drawn), 1, dpi), dpi) < 0.05


def test_everything_dark_on_the_page_is_listed_as_printed_or_outlines_a_box():
    drawn, dpi = ruled(), 200
    k = dpi / 25.4
    dark = page_picture(chart_pdf(drawn), 1, dpi) < 128
    page = drawn.chart.pages[0]
    outlines = [s.rect for box in page.boxes for s in box.strokes]
    for r in page.printed:
        dark[int(r.y * k) : int(np.ceil(r.bottom * k)) + 1, int(r.x * k) : int(np.ceil(r.right * k)) + 1] = (
            False
        )
    for r in outlines:
        for x in (r.x, r.right):
            dark[:, int(x * k) - 1 : int(x * k) + 3] = False
        for y in (r.y, r.bottom):
            dark[int(y * k) - 1 : int(y * k) + 3] = False
    assert dark.sum() == 0


def test_the_bar_is_100_mm_long_on_paper():
    drawn, dpi = ruled(), 300
    dark = page_picture(chart_pdf(drawn), 1, dpi) < 128
    foot = dark[round((297 - 22) * dpi / 25.4) :]
    runs = []
    for row in foot:
        edges = np.flatnonzero(np.diff(np.r_[0, row.astype(int), 0]))
        runs.append(max(edges[1::2] - edges[::2], default=0))
    assert abs(max(runs) * 25.4 / dpi - 100) < 0.2


def test_the_same_chart_is_the_same_file_byte_for_byte():
    first = chart_pdf(ruled())
    chart_pdf(ruled("A5", labels(3)))
    assert chart_pdf(ruled()) == first


def test_a_document_carries_its_own_fonts_and_no_other():
    document = chart_pdf(ruled())
    assert b"SourceSerif" in document
    assert b"SourceSans" in document
    assert b"Helvetica" not in document


def test_several_pages_each_say_which_they_are():
    drawn = ruled("A5", labels(40))
    document = chart_pdf(drawn)
    reader = cv2.QRCodeDetectorAruco()
    texts = [reader.detectAndDecode(page_picture(document, p.page, 200))[0] for p in drawn.chart.pages]
    assert texts == [f"HALFPAN K7Q2M {k + 1}" for k in range(len(drawn.chart.pages))]


def test_a_file_is_whole_or_not_there(tmp_path):
    path = tmp_path / "chart.pdf"
    write_chart(path, ruled(), ruled().chart)
    assert path.read_bytes() == chart_pdf(ruled())
    with pytest.raises(Unwritable, match="there is no such file or folder"):
        write_chart(tmp_path / "absent" / "chart.pdf", ruled(), ruled().chart)
    with pytest.raises(Unwritable, match=r"end the name of the print in \.pdf"):
        write_chart(tmp_path / "chart.json", ruled(), ruled().chart)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["chart.json", "chart.pdf"]


LETTERS = st.characters(
    codec="utf-8", categories=["L", "N", "P", "Zs"], exclude_characters="\N{NULL}", max_codepoint=0x2000
)
NAMES = st.one_of(
    st.text(LETTERS, max_size=90),
    st.sampled_from([
        "Ultramarinviolett rötlich, granulierend (Künstlerqualität)",
        "Πράσινο του βιριδιανού ανοιχτό θερμό",
        "Ультрамарин фиолетово-красный светлый",
        "Donaudampfschifffahrtsgesellschaftsblau",
        "ÉÀÎÕÜŞĞİŁŻ",
        "",
    ]),
)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.builds(
            BoxLabel,
            paint=st.from_regex(r"[A-Z][0-9]{1,6}", fullmatch=True),
            name=NAMES,
            codes=st.lists(st.sampled_from(["PB29", "PBr7", "PB15:3", "PW6:1"]), max_size=9),
            maker=NAMES,
            range=NAMES,
            family=NAMES,
            pale=st.booleans(),
        ),
        min_size=1,
        max_size=8,
    ),
    NAMES,
    st.sampled_from(["A5", "A4 landscape", "A3"]),
)
def test_whatever_a_label_says_no_words_overlap_and_none_stands_in_a_zone(paints, title, sheet):
    drawn = rule_swatch_chart(
        paints, sheet=sheet_of(sheet), chart_id="K7Q2M", measure=text_width, title=title
    )
    for page, ink in zip(drawn.chart.pages, drawn.ink, strict=True):
        words = [item for item in ink if isinstance(item, Words) and item.text.strip()]
        zones = [zone.rect for box in page.boxes for zone in box.zones]
        for k, item in enumerate(words):
            assert not any(item.rect.overlaps(z) for z in zones)
            assert item.x + item.width <= drawn.sheet.width_mm - 8
            assert not any(item.rect.inset(0.15).overlaps(o.rect.inset(0.15)) for o in words[k + 1 :])


def test_the_width_of_words_is_the_one_they_are_drawn_with():
    from reportlab.pdfbase.pdfmetrics import stringWidth

    chart_pdf(ruled())
    for face, name in (("serif bold", "Halfpan-serif-bold"), ("sans", "Halfpan-sans")):
        for text in ("Quinacridone", "Ультрамарин", "Βιριδιανό", "PB15:3 · é"):
            assert text_width(text, face, 9) == pytest.approx(
                stringWidth(text, name, 9) * 25.4 / 72, rel=1e-9
            )


def test_letters_that_the_fonts_do_not_hold_are_told():
    assert unprintable("Ultramarin Ωμ Ж é") == ()
    assert unprintable("群青 blue") == ("群", "青")


def test_a_picture_is_printed_in_its_room_and_nothing_where_none_was_given():
    tin = tin_of_rows("Tin", ["hh"])
    drawn = rule_tin_sheet(
        tin,
        dict(zip(("A1", "A2"), labels(2), strict=True)),
        sheet=sheet_of("A4"),
        chart_id="L1D",
        measure=text_width,
        pictured={"P1", "P2"},
    )
    _, encoded = cv2.imencode(".png", np.full((30, 40, 3), (40, 90, 200), np.uint8))
    page = page_picture(chart_pdf(drawn, {"P1": encoded.tobytes()}), 1, 100)
    middles = []
    for box in drawn.chart.pages[0].boxes:
        r = box.strokes[0].rect
        middles.append(page[round((r.y + 2) * 100 / 25.4), round((r.x + r.width / 2) * 100 / 25.4)])
    assert 60 < middles[0] < 200
    assert middles[1] == 255


@pytest.mark.parametrize("kind", ["mixes", "tests"])
def test_other_sheets_show_their_marks_and_code_and_keep_their_zones_clean(kind):
    sheet = sheet_of("A4")
    if kind == "mixes":
        pairs = [
            MixLabel([(a, 3), (b, 1)], "doubt now ± 6")
            for a, b in zip(labels(9), labels(10)[1:], strict=True)
        ]
        drawn = rule_mix_chart(pairs, sheet=sheet, chart_id="K7Q2M", measure=text_width)
    else:
        drawn = rule_test_chart(labels(5), sheet=sheet, chart_id="K7Q2M", measure=text_width)
    picture = page_picture(chart_pdf(drawn), 1, 200)
    assert miss_mm(drawn, picture, 200) < 0.05
    assert cv2.QRCodeDetectorAruco().detectAndDecode(picture)[0] == "HALFPAN K7Q2M 1"
    assert_clean(drawn, picture, 200)
