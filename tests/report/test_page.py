"""The report as a page: all that issue and law want on it, nothing fetched, every text escaped."""

from __future__ import annotations

import re
import sys
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter
from click.testing import CliRunner, Result

from rigxl.cli import main
from rigxl.errors import InputError
from rigxl.report.lifts import LiftPart, lifts
from rigxl.report.page import css_text, footer, page, placed_by_lift, target_for
from rigxl.samples import SAMPLES
from rigxl.schedule.check import Checked, check_workbook
from rigxl.workbook.pictures import Picture
from tests.images import png
from tests.report.pages import FOLDER, TODAY, Read, report, sample
from tests.schedule.books import GOOD, HOOK, table

HOSTILE = (
    "<script>alert(1)</script>",
    "\"'><img src=x onerror=alert(1)>",
    "{{ 1234567 * 9 }} {% raw %}",
    "</style></title><b>",
    "javascript:alert(1)",
)
OURS = {
    "html", "head", "meta", "title", "style", "body", "header", "section", "h1", "h2", "h3", "p", "span", "b",
    "br", "ul", "li", "dl", "div", "dt", "dd", "table", "caption", "colgroup", "col", "thead", "tbody", "tr",
    "th", "td", "a", "figure", "figcaption", "img", "svg", "path", "rect", "circle", "text",
}  # fmt: skip


def books(path: Path, *rows: dict[str, Any]) -> Checked:
    """A schedule of these rows, checked; a picture may stand beside them."""
    with xlsxwriter.Workbook(path) as made:
        sheet = made.add_worksheet("Schedule")
        dates = made.add_format({"num_format": "yyyy-mm-dd"})
        for number, line in enumerate(table(*rows)):
            for column, value in enumerate(line):
                if hasattr(value, "year"):
                    sheet.write_datetime(number, column, value, dates)
                elif isinstance(value, str):
                    sheet.write_string(number, column, value)
                else:
                    sheet.write(number, column, value)
    return check_workbook(path, today=TODAY)


@pytest.fixture(params=SAMPLES)
def checked(request: pytest.FixtureRequest) -> Checked:
    return sample(request.param)


def parts_of(name: str, lift: str) -> LiftPart:
    return next(part for part in lifts(sample(name), {}) if part.name == lift)


def test_nothing_is_fetched_and_no_script_runs(checked: Checked) -> None:
    """Every address is within the page or is the data itself; no script, no handler, no form."""
    read = Read(report(checked))
    assert {tag for tag, _ in read.elements} <= OURS
    assert all(value.startswith(("#", "data:image/")) for value in read.values("href", "src", "xlink:href"))
    assert not [name for _, given in read.elements for name in given if name.startswith("on")]
    style = re.findall(r"<style>(.*?)</style>", report(checked), re.S)
    assert len(style) == 1
    assert "url(" not in style[0]
    assert "@import" not in style[0]


def test_every_link_has_its_place(checked: Checked) -> None:
    read = Read(report(checked))
    places = read.values("id")
    assert len(places) == len(set(places))
    assert {value.removeprefix("#") for value in read.values("href")} <= set(places)


def test_every_row_is_there_with_its_numbers_and_verdict(checked: Checked) -> None:
    """Each row once among the items, its verdict as a word and as a mark; each reason with its source."""
    read = Read(report(checked))
    parts = [part for lift in lifts(checked, {}) for part in lift.rows]
    assert {id(part.row) for part in parts} == {id(row) for row in checked.rows}
    for part in parts:
        assert part.anchor in read.values("id")
        for value in (part.force, part.required, part.rated, part.use):
            assert value in read.text
        for one in part.reasons:
            assert " ".join(one.sentence.split()) in read.text
            assert f"[{one.rule.source.cited}]" in read.text
    words = [word for word in ("PASS", "FAIL", "HOLD") if checked.counts[word]]
    for word in words:
        assert (
            len(re.findall(rf'<span class="mark {word.lower()}"><svg', report(checked)))
            > checked.counts[word]
        )


def test_the_whole_is_there(checked: Checked) -> None:
    """Digest, criteria with who chose them, cautions, and a block to sign."""
    text = Read(report(checked)).text
    assert checked.book.sha256 in text
    for one in checked.criteria:
        assert f"{one.name} " in text
        assert one.chosen_by in text
        assert one.source.cited in text
    assert "Nobody stands or passes under a suspended load." in text
    assert re.search(r"Name and capacity Date Signature Prepared Checked Approved", text)
    assert f"{checked.counts['PASS']} PASS, {checked.counts['FAIL']} FAIL" in text


def test_workings_are_those_of_why(checked: Checked) -> None:
    """And --brief leaves them out."""
    whole, brief = Read(report(checked)).text, Read(report(checked, brief=True)).text
    assert "Workings" in whole
    assert "Workings" not in brief
    for lift in lifts(checked, {}):
        for part in lift.rows:
            for line in part.explained.lines:
                assert f"{line.step.formula} {line.step.numbers}".strip() in whole


def test_what_all_rows_share_is_worked_once() -> None:
    """The load and hook load of a table of lifts stand over the workings of its rows, from the same cells."""
    upper = parts_of("lock_gates_metric", "Upper gate out")
    assert [line.step.name for line in upper.shared] == ["load", "load with its allowance", "hook load"]
    assert upper.lines(upper.rows[0])[0].step.name == "force on the item"


def test_a_lift_says_its_figures() -> None:
    """14,500 lb × 1.10 + 850 lb = 16,800 lb, worked in the sample's own test; drawn with its legs at 60°."""
    text = Read(report(sample("footbridge"))).text
    assert "Hook load (15 950 lb + 850 lb) × 1 = 16 800 lb = 74.73 kN" in text
    assert "hook load 16 800 lb" in text
    assert "Two of the 4 legs at 60° from the horizontal" in text


def test_what_a_device_carries_is_not_called_the_hook_load() -> None:
    """The hook carries the spreader bar too, the bar does not carry itself: 2 × 1.05 + 0.3 − 0.2 = 2.2 t."""
    facts = {fact.name: fact.value for fact in parts_of("turbine_hall_every_kind", "Casing cover").facts}
    assert facts["Load on the device"].endswith("= 2.2 t = 21.57 kN")
    assert "Hook load" not in facts


def test_hostile_text_stays_text(tmp_path: Path) -> None:
    """In every text field, in the name of the file, of the sheet and of a picture."""
    rows = [
        {
            **GOOD,
            "Lift": text,
            "Tag": f"S{number} {text}",
            "Description": text,
            "Maker": text,
            "Condition": text,
        }
        for number, text in enumerate(HOSTILE)
    ]
    path = tmp_path / "a'\"<b> }&{{1}} .xlsx"
    made = books(path, *rows)
    assert len(made.rows) == len(HOSTILE)
    picture = Picture("Schedule", 2, 2, HOSTILE[1], "png", png(2, 2))
    html = page(made, [picture], today=TODAY)
    read = Read(html)
    assert {tag for tag, _ in read.elements} <= OURS
    assert not [name for _, given in read.elements for name in given if name.startswith("on")]
    assert all(value.startswith(("#", "data:image/png;base64,")) for value in read.values("href", "src"))
    for text in HOSTILE:
        assert " ".join(text.split()) in read.text
    assert html.count("</style>") == 1
    assert str(1234567 * 9) not in html


def test_the_footer_cannot_leave_its_string() -> None:
    """In a style sheet a quote, a backslash or an end tag would."""
    text = css_text("a\\\"';}\n</style>é")
    assert re.fullmatch(r'"(?:[A-Za-z0-9 ]|\\[0-9a-f]+ )*"', text)
    long = Checked.__new__(Checked)
    long.book = sample("footbridge").book.__class__(Path("x" * 300), "0" * 64, "xlsx", False, ())
    assert len(footer(long, TODAY)) < 160


def over(first: int, last: int, sheet: str = "Schedule") -> Picture:
    return Picture(sheet, first, last, f"picture {first} to {last}", "png", png(2, 2))


def two_lifts(folder: Path) -> Checked:
    """Rows 2 and 3 of one lift, 4 and 5 of another."""
    rows = [HOOK | {"Lift": "A", "Tag": "A-1"}, GOOD | {"Lift": "A", "Tag": "A-2"}]
    rows += [HOOK | {"Lift": "B", "Tag": "B-1"}, GOOD | {"Lift": "B", "Tag": "B-2"}]
    return books(folder / "two.xlsx", *rows)


@pytest.mark.parametrize(
    ("picture", "lift"),
    [
        (over(2, 3), "A"),
        (over(4, 4), "B"),
        (over(3, 5), "A"),  # reaches over both, begins beside A
        (over(1, 9), None),  # reaches over both, begins over neither
        (over(20, 25), None),  # beside neither
        (over(2, 3, "Elsewhere"), None),
    ],
)
def test_a_picture_belongs_to_the_lift_it_stands_beside(
    tmp_path: Path, picture: Picture, lift: str | None
) -> None:
    """Or to none: then it is shown apart, never with the wrong lift."""
    checked = two_lifts(tmp_path)
    assert placed_by_lift(checked, [picture]) == ({lift: [picture]} if lift else {})
    text = Read(page(checked, [picture], today=TODAY)).text
    assert text.count(picture.name) == 1
    assert ("Pictures that stand beside no one lift" in text) is (lift is None)


def test_a_picture_in_a_workbook_comes_along(tmp_path: Path) -> None:
    """From the file's own drawing into the page, as data."""
    path = tmp_path / "one.xlsx"
    with xlsxwriter.Workbook(path) as made:
        sheet = made.add_worksheet("Schedule")
        for number, line in enumerate(table({**GOOD, "Last inspection": "2026-06-01"})):
            sheet.write_row(number, 0, line)
        sheet.insert_image("A2", "x.png", {"image_data": BytesIO(png(9, 9)), "description": "The gate"})
    read = Read(report(check_workbook(path, today=TODAY)))
    (source,) = read.values("src")
    assert source.startswith("data:image/png;base64,iVBORw0KGgo")
    assert "The gate (Schedule, row 2)" in read.text


def test_pictures_of_an_untrusted_workbook_are_left_out(tmp_path: Path) -> None:
    """Only its cells are read, in a process apart; the page says so."""
    path = tmp_path / "one.xlsx"
    with xlsxwriter.Workbook(path) as made:
        sheet = made.add_worksheet("Schedule")
        for number, line in enumerate(table({**GOOD, "Last inspection": "2026-06-01"})):
            sheet.write_row(number, 0, line)
        sheet.insert_image("A2", "x.png", {"image_data": BytesIO(png(9, 9))})
    assert run(path, "--untrusted", "--set", "judged on=2026-11-25").exit_code == 0
    read = Read((tmp_path / "one.report.html").read_text(encoding="utf-8"))
    assert read.values("src") == []
    assert "read apart as untrusted: pictures were left out" in read.text


def test_waivers_are_shown(tmp_path: Path) -> None:
    """Who answers, until when and why, beside the row and in a table of their own."""
    rows = table({**GOOD, "Rated load (t)": 3.5, "Last inspection": "2026-06-01"})
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Schedule"
    for line in rows:
        sheet.append(line)
    waivers = book.create_sheet("Waivers")
    waivers.append(["Rule", "Item", "Reason", "Who", "Until"])
    waivers.append(["design-margin", "S-1", "One slow lift, crew briefed", "B. Example", "2026-12-31"])
    book.save(tmp_path / "waived.xlsx")
    checked = check_workbook(tmp_path / "waived.xlsx", today=TODAY)
    assert checked.counts["WAIVED"] == 1
    read = Read(page(checked, today=TODAY))
    assert "waived by B. Example until 2026-12-31: One slow lift, crew briefed" in read.text
    assert "Waivers" in read.text
    assert "1 WAIVED" in read.text


def test_rows_without_a_lift_have_a_place(tmp_path: Path) -> None:
    rows = [{name: value for name, value in GOOD.items() if name != "Lift"}]
    text = Read(page(books(tmp_path / "loose.xlsx", *rows), today=TODAY)).text
    assert "Rows that name no lift" in text


def test_nothing_to_report(tmp_path: Path) -> None:
    file = tmp_path / "empty.csv"
    file.write_text("What,Days\nCrane,2\n")
    with pytest.raises(InputError, match=r"no row of a rigging schedule was found in empty\.csv"):
        page(check_workbook(file, today=TODAY))


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["report", *map(str, arguments)])


def test_the_command(tmp_path: Path) -> None:
    """Beside the workbook, which stays as it is; 1 where a row does not pass, as a check would say."""
    two_lifts(tmp_path)
    before = (tmp_path / "two.xlsx").read_bytes()
    result = run(tmp_path / "two.xlsx", "--set", "judged on=2026-11-25", "--paper", "letter")
    assert result.exit_code == 0, result.output
    assert result.stdout == f"{tmp_path / 'two.report.html'}\n"
    assert "size: letter" in (tmp_path / "two.report.html").read_text(encoding="utf-8")
    assert (tmp_path / "two.xlsx").read_bytes() == before
    failing = run(
        tmp_path / "two.xlsx", "--set", "judged on=2026-11-25", "--set", "margin=5", "--out", tmp_path
    )
    assert failing.exit_code == 1


def test_what_cannot_be_written_is_refused(tmp_path: Path) -> None:
    two_lifts(tmp_path)
    result = run(tmp_path / "two.xlsx", "--out", tmp_path / "two.xlsx")
    assert result.exit_code == 2
    assert "name a file that ends in .html" in result.stderr
    assert run(tmp_path / "none.xlsx").exit_code == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["two.xlsx"]


def test_without_jinja2_one_sentence_says_what_would_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "jinja2", None)
    result = run(FOLDER / "footbridge.xlsx", "--out", tmp_path)
    assert result.exit_code == 2
    assert result.stderr == (
        "rigxl: a report needs Jinja2, which is not installed: pip install 'rigxl[report]' would do\n"
    )
    assert list(tmp_path.iterdir()) == []


def test_where_it_goes(tmp_path: Path) -> None:
    assert target_for(Path("a/lift.xlsx"), tmp_path) == tmp_path / "lift.report.html"
    assert target_for(Path("a/lift.xlsx"), tmp_path / "x.html") == tmp_path / "x.html"
