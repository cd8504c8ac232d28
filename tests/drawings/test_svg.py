"""Every sort of drawing as SVG. Sources: XML 1.0 (escaping), SVG 2 and WAI-ARIA 1.2 (role img, ids)."""

import re
from pathlib import Path

import jinja2
import pytest

from app.drawings.drawing import Drawing, Twin, to_svg
from app.drawings.pens import FILLS, PENS
from app.drawings.shapes import Arc, Circle, CurvedText, Line, Text

ROOT = Path(__file__).parents[2]
SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = """<script>alert(1)</script> "'&amp; ]]> \x00\x0b\ud800 onload=x"""


def test_every_drawing_is_well_formed_with_a_title_and_a_description(drawing, parse):
    root = parse(to_svg(drawing))
    ids = {element.get("id"): element for element in root.iter() if element.get("id")}
    assert root.get("role") == "img"
    title, description = (ids[name] for name in root.get("aria-labelledby").split())
    assert title.text == drawing.title
    assert description.text == drawing.description


def test_ids_stand_once_in_a_drawing_and_differ_between_names(drawing):
    first, second = (re.findall(r' id="([^"]+)"', to_svg(drawing, name=name)) for name in ("one", "two"))
    assert len(set(first)) == len(first)
    assert not set(first) & set(second)


def test_equal_drawings_give_the_same_text(draw):
    assert to_svg(draw("same")) == to_svg(draw("same"))


@pytest.mark.parametrize("standalone", [False, True])
def test_hostile_words_stay_words(draw, parse, standalone):
    drawing = draw(HOSTILE)
    text = to_svg(drawing, standalone=standalone)
    root = parse(text.encode("utf-8"))
    allowed = {"svg", "title", "desc", "polyline", "polygon", "circle", "path", "text", "textPath"}
    allowed |= {"rect"} if standalone else set()
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= allowed
    assert "<script" not in text
    assert "alert(1)" in "".join(root.itertext())


@pytest.mark.parametrize("standalone", [False, True])
def test_no_drawing_holds_style_handlers_or_outside_addresses(drawing, parse, standalone):
    for element in parse(to_svg(drawing, standalone=standalone)).iter():
        for name, value in element.attrib.items():
            assert name != "style"
            assert not name.startswith("on")
            assert "href" not in name or value.startswith("#")
            assert "url(" not in value


def test_a_standalone_drawing_is_black_ink_without_classes(drawing, parse):
    elements = list(parse(to_svg(drawing, standalone=True)).iter())[1:]
    assert not [element for element in elements if element.get("class")]
    colours = {element.get(name) for element in elements for name in ("stroke", "fill") if element.get(name)}
    assert colours <= {"#000", "#767676", "#fff", "#eee", "none"}


def test_every_class_of_a_drawing_has_a_rule_in_the_style_sheet(drawing):
    rules = (ROOT / "static/css/drawings.css").read_text()
    classes = set(" ".join(re.findall(r' class="([^"]+)"', to_svg(drawing))).split())
    assert {name for name in classes if not re.search(rf"\.{name}\b(?!-)", rules)} == set()


def test_every_pen_and_fill_has_a_rule_in_the_style_sheet():
    rules = (ROOT / "static/css/drawings.css").read_text()
    heads = {pen for pen in PENS if pen.endswith("-head")}
    for name in [f"pen-{pen}" for pen in PENS.keys() - heads] + [f"fill-{fill}" for fill in FILLS]:
        assert re.search(rf"\.{name}\b(?!-)", rules), name


def test_a_template_prints_a_drawing_unescaped_and_its_words_escaped(draw):
    page = jinja2.Environment(autoescape=True).from_string("{{ drawing.markup() }}")
    text = page.render(drawing=draw("<b>words</b>"))
    assert text.startswith("<svg")
    assert "&lt;b&gt;words&lt;/b&gt;" in text


def test_the_twin_is_a_full_table(drawing):
    assert drawing.twin.rows
    assert all(len(row) == len(drawing.twin.heads) for row in drawing.twin.rows)
    assert all(isinstance(cell, str) for row in drawing.twin.rows for cell in row)


def test_texts_of_ordinary_drawings_do_not_lie_on_one_another(drawing, overlapping):
    assert overlapping(drawing) == []


def test_no_break_spaces_stay_and_line_breaks_become_spaces(draw, parse):
    text = "".join(parse(to_svg(draw("38\u00a0g\u202fx\ny"))).itertext())
    assert "38\u00a0g\u202fx y" in text


def _path(shape, parse):
    drawing = Drawing("t", "d", 100, 100, (shape,), Twin("", (), ()))
    return next(parse(to_svg(drawing)).iter(f"{SVG}path")).get("d")


def test_an_arc_runs_clockwise_from_the_top(parse):
    assert _path(Arc(50, 50, 10, 0, 90), parse) == "M50 40A10 10 0 0 1 60 50"
    assert _path(Arc(50, 50, 10, 90, 0), parse) == "M60 50A10 10 0 0 0 50 40"
    assert _path(Arc(50, 50, 10, 0, 270), parse) == "M50 40A10 10 0 1 1 40 50"


def test_curved_text_stays_upright_on_the_lower_half(parse):
    assert " 0 0 1 " in _path(CurvedText(50, 50, 30, 0, "top"), parse)
    assert " 0 0 0 " in _path(CurvedText(50, 50, 30, 180, "bottom"), parse)


def test_coordinates_have_two_decimals_and_no_negative_zero():
    shapes = (Line(-0.001, 1 / 3, 2, 1e-9), Circle(1, 2, 3), Text(1, 2, "a"))
    text = to_svg(Drawing("t", "d", 100, 100, shapes, Twin("", (), ())))
    assert 'd="M0 0.33L2 0"' in text
    assert "-0" not in re.sub(r"drawing-\w+", "", text)
