"""Record pages as HTML: whole, linked, readable, and safe whatever a name holds."""

import re
import subprocess
import sys
from dataclasses import replace
from datetime import date
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
import record_jobs
from html_reader import Element, HtmlError, read_html
from hypothesis import given, settings
from hypothesis import strategies as st

from traysheets.export.files import write_all
from traysheets.export.html import record_files, render, stylesheet
from traysheets.page.record import Caution, Fact, Item, RecordPage, Section, Task, Way
from traysheets.sheets.records import record_pages

PAGES = {record.file: render(record) for record in record_pages(record_jobs.job())}


@pytest.fixture(params=PAGES)
def page(request: pytest.FixtureRequest) -> Element:
    return read_html(PAGES[request.param])


# ---- shape


@pytest.mark.parametrize(
    "wrong", ["<p>", "<!DOCTYPE html><p>", "<!DOCTYPE html><b><i></b></i>", '<!DOCTYPE html><p id="" id="">']
)
def test_the_reader_refuses_what_is_not_well_formed(wrong: str) -> None:
    with pytest.raises(HtmlError):
        read_html(wrong)


def test_language_title_and_landmarks(page: Element) -> None:
    root, body = page.all("html")[0], page.all("body")[0]
    assert (root.attributes["lang"], root.attributes["dir"]) == ("en", "ltr")
    assert page.all("title")[0].text.strip()
    landmarks = [child.name for child in body.children if child.name != "svg"]
    assert landmarks == ["header", "main", "footer"]


def test_headings_stand_in_order(page: Element) -> None:
    levels = [int(heading.name[1]) for heading in page.all("h1", "h2", "h3", "h4", "h5", "h6")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert all(heading.text.strip() for heading in page.all("h1", "h2"))


def test_ids_are_given_once_and_what_refers_to_them_finds_them(page: Element) -> None:
    ids = [element.attributes["id"] for element in page.all() if "id" in element.attributes]
    assert len(set(ids)) == len(ids)
    links = {element.attributes.get("href", "") for element in page.all()}
    clips = {element.attributes["clip-path"] for element in page.all() if "clip-path" in element.attributes}
    referred = {link[1:] for link in links if link.startswith("#")} | {clip[5:-1] for clip in clips}
    assert referred <= set(ids)


def test_pictures_are_described_or_hidden(page: Element) -> None:
    figures = [figure.all("svg")[0] for figure in page.all("figure")]
    assert all(len(figure.attributes["aria-label"]) > 20 for figure in figures)
    beside = [svg for svg in page.all("svg") if svg.attributes.get("class") in ("mark", "unseen")]
    assert all(svg.attributes["aria-hidden"] == "true" for svg in beside)


def test_nothing_from_outside_and_no_script(page: Element) -> None:
    assert page.all("script", "iframe", "object", "embed", "img", "base", "form") == []
    for element in page.all():
        assert not [name for name in element.attributes if name.startswith("on")]
        for name in ("href", "src", "xlink:href"):
            address = urlsplit(element.attributes.get(name, ""))
            assert not address.netloc
            assert address.scheme in ("", "data")
    assert "url(" not in stylesheet()
    assert "@import" not in stylesheet()


def test_a_page_fits_a_phone(page: Element) -> None:
    viewports = [meta for meta in page.all("meta") if meta.attributes.get("name") == "viewport"]
    assert viewports[0].attributes["content"] == "width=device-width, initial-scale=1"


# ---- links


def test_every_link_leads_to_a_file_of_the_folder(tmp_path: Path) -> None:
    write_all(tmp_path, record_files(record_pages(record_jobs.job())))
    pages = sorted(tmp_path.rglob("*.html"))
    assert len(pages) == 8
    for path in pages:
        links = [link.attributes["href"] for link in read_html(path.read_text("utf-8")).all("a", "link")]
        for link in links:
            address = urlsplit(link)
            if address.path and address.scheme != "data":
                assert (path.parent / unquote(address.path)).resolve().is_file(), f"{path}: {link}"


def test_every_page_is_reached_from_the_index() -> None:
    reached, left = set(), ["index.html"]
    while left:
        file = left.pop()
        if file in reached:
            continue
        reached.add(file)
        for link in read_html(PAGES[file]).all("a"):
            path = Path("/", file).parent / urlsplit(link.attributes["href"]).path
            if urlsplit(link.attributes["href"]).path:
                left.append(str(Path(*_resolved(path))))
    assert reached == set(PAGES)


def _resolved(path: Path) -> list[str]:
    parts: list[str] = []
    for part in path.parts[1:]:
        parts = parts[:-1] if part == ".." else [*parts, part]
    return parts


def test_the_depth_of_a_page_may_be_told() -> None:
    record = RecordPage("B/X", "X", "", "en", (), up=Way("All", ""))
    assert 'href="../../style.css"' in render(record)
    assert 'href="style.css"' in render(record, depth=0)
    assert 'href="../../index.html"' in render(record, depth=2)


# ---- content


def test_the_page_of_a_batch_says_what_the_record_says() -> None:
    page = read_html(PAGES["B/27-014-K/index.html"])
    assert page.all("h1")[0].text == "Longstalk Winter"
    assert page.all("code")[0].text == "27-014-K"
    assert [heading.text for heading in page.all("h2")] == ["What to do, and when", "Where it stands", "Seed and stand"]
    assert len(page.all("figure")) == 2
    terms = [" ".join(row.text.split()) for row in page.all("dl")[0].children]
    assert "Germination 85% tested" in terms


def test_cautions_stand_before_everything_else() -> None:
    main = read_html(PAGES["B/27-015-9/index.html"]).all("main")[0]
    assert main.children[0].attributes["class"] == "caution"
    assert main.children[0].text.split()[:4] == ["Treated", "seed", "Wear", "gloves,"]


def test_a_picture_shown_often_is_drawn_once() -> None:
    index = PAGES["index.html"]
    assert index.count('href="#m1"') == 2
    assert index.count('id="m1"') == 1


def test_pages_are_the_same_bytes_in_every_process_and_on_every_day() -> None:
    code = (
        "import sys, hashlib; sys.path.insert(0, 'tests'); import record_jobs\n"
        "from traysheets.export.html import render\n"
        "from traysheets.sheets.records import record_pages\n"
        "print(hashlib.sha256(''.join(map(render, record_pages(record_jobs.job()))).encode()).hexdigest())"
    )
    run = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={"PYTHONHASHSEED": seed},
            cwd=Path(__file__).parent.parent,
            check=True,
            capture_output=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(run) == 1
    later = replace(record_jobs.job(), today=date(2031, 1, 1))
    assert [render(record) for record in record_pages(later)] == list(PAGES.values())


# ---- names that try it on

NASTY = {
    "markup": '<script>alert("1")</script>',
    "end of everything": "</title></h1></body></html><!--",
    "quotes": "\"'><a href=x onclick='y'>",
    "entities": "Fish &amp; chips &lt;b&gt; &#60;",
    "template": "{{ 7 * 7 }}{% raw %}",
    "right to left": "\u202eretniW\u202c אבג",
    "far scripts": "Ελληνικά Кириллица 日本語 हिन्दी",
    "long": "Longstalk" * 40,
    "address": "javascript:alert(1)",
}


@pytest.mark.parametrize("name", NASTY.values(), ids=NASTY)
def test_names_come_out_as_they_were_written(name: str) -> None:
    made = record_jobs.named(name, crop_name=name, lot=name, notes=f"{name}\n{name}", place=name)
    pages = {record.path: read_html(render(record)) for record in record_pages(made)}
    batch = pages["B/27-014-K"]
    assert batch.all("h1")[0].text == name
    assert batch.all("title")[0].text == f"{name} · 27-014-K"
    assert name in [value.text for value in batch.all("bdi")]
    assert f"{name}\n{name}" in batch.text
    assert any(name in svg.attributes.get("aria-label", "") for svg in pages["T/1"].all("svg"))
    names = {element.name for page in pages.values() for element in page.all()}
    assert "script" not in names
    assert all("onclick" not in element.attributes for page in pages.values() for element in page.all())


WRITTEN = st.text(st.characters(exclude_categories=["Cc", "Cs"]), min_size=1, max_size=60)


@settings(max_examples=60)
@given(text=WRITTEN)
def test_any_text_anywhere_leaves_the_page_whole(text: str) -> None:
    record = RecordPage(
        path="B/X",
        title=text,
        subtitle=text,
        language="en",
        sections=(
            Section(
                text, text, (Task(text, text, text),), (Item(text, text, text, text, None, "T/1"),), (Way(text, ""),)
            ),
            Section(text, facts=(Fact(text, text, text),)),
        ),
        code=text,
        lead=text,
        cautions=(Caution(text, text),),
        up=Way(text, ""),
        footer=text,
    )
    page = read_html(render(record))
    assert page.text.count(text) >= 18
    assert {element.name for element in page.all()} == {
        element.name for element in read_html(render(_plain(record))).all()
    }


def _plain(record: RecordPage) -> RecordPage:
    return replace(record, title="x", subtitle="x", code="x", lead="x", footer="x")


# ---- colours


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour: WCAG 2.2, definition."""
    parts = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio: WCAG 2.2, definition. Black on white is 21."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_sum() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    # #767676 is the lightest grey that has 4.5 : 1 on white (widely published; from memory).
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


PAIRS = [("ink", "ground"), ("ink", "card"), ("soft", "ground"), ("soft", "card"), ("link", "ground"), ("link", "card")]
PAIRS += [("plate-ink", "plate"), ("warn-ink", "warn")]


@pytest.mark.parametrize("scheme", [0, 1, 2], ids=["light", "dark", "print"])
@pytest.mark.parametrize("pair", PAIRS, ids=" on ".join)
def test_every_pair_of_colours_can_be_read(scheme: int, pair: tuple[str, str]) -> None:
    """4.5 : 1 or more, WCAG 2.2 success criterion 1.4.3; letters that are read in the sun are held to 5."""
    roots = re.findall(r":root \{(.*?)\}", stylesheet(), re.DOTALL)
    assert len(roots) == 3
    colours = dict(re.findall(r"--([\w-]+): (#\w{6});", roots[0])) | dict(
        re.findall(r"--([\w-]+): (#\w{6});", roots[scheme])
    )
    assert contrast(colours[pair[0]], colours[pair[1]]) >= 5
