"""What the QR codes say: addresses as given, short text in the alphanumeric set of ISO/IEC 18004."""

from dataclasses import replace

import map_jobs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.page import qr
from traysheets.sheets.links import AIM, MOST, batch_text, tray_text, tray_url
from traysheets.sheets.plain_letters import ALPHANUMERIC, plain_letters


def one(record_url=None, what="clump 25", **facts):
    kind = map_jobs.TRAYS["pot-18"]
    batch = map_jobs.batch(0, kind, 8, what, **facts)
    return map_jobs.job([batch], [map_jobs.fill(kind, [batch], number=3)], record_url=record_url)


def text(**facts):
    job = one(**facts)
    return batch_text(job, job.batch(0))


def test_an_address_is_the_growers_own_with_the_code_in_it():
    assert text(record_url="HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}") == "HTTPS://RECORDS.EXAMPLE.ORG/B/27-014-K"
    assert text(record_url="https://a.example/{batch}/show") == "https://a.example/27-014-K/show"


def test_without_an_address_the_record_is_short_text():
    assert text(variety="Ruby") == "27-014-K RUBY 2027-03-06 25/CELL"
    assert text(variety="Ruby", what="stations 3x2") == "27-014-K RUBY 2027-03-06 3X2/CELL"
    assert text(variety="Ruby", what="single 1") == "27-014-K RUBY 2027-03-06 1/CELL"


def test_a_long_name_gives_way_before_the_facts():
    assert text(variety="Longstalk Winter Selection") == "27-014-K LONGSTALK 2027-03-06 25/CELL"


def test_a_code_longer_than_usual_still_fits():
    job = one()
    job = replace(job, codes={0: "ONIONS-OF-THE-EARLY-SPRING-27-01"})
    assert len(batch_text(job, job.batch(0))) <= MOST


@given(st.text(max_size=60))
def test_short_text_is_alphanumeric_and_short(variety):
    found = text(variety=variety)
    assert set(found) <= ALPHANUMERIC
    assert len(found) <= AIM
    assert qr.version_for(found, "M") <= 2


def test_the_aims_are_the_capacities_of_the_standard():
    """ISO/IEC 18004, table 7: version 2 holds 47 alphanumeric characters at level L and 38 at M."""
    assert (AIM, MOST) == (38, 47)
    assert qr.version_for("A" * AIM, "M") == 2
    assert qr.version_for("A" * MOST, "L") == 2
    with_one_more = "A" * (AIM + 1)
    assert qr.version_for(with_one_more, "M") == 3


def test_a_trays_page_stands_beside_those_of_its_batches():
    job = one("HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}")
    assert tray_url(job, job.trays[0]) == "HTTPS://RECORDS.EXAMPLE.ORG/T/3"
    assert tray_text(job, job.trays[0]) == "HTTPS://RECORDS.EXAMPLE.ORG/T/3"
    assert tray_url(one("HTTPS://A.EXAMPLE/B/{batch}/"), job.trays[0]) == "HTTPS://A.EXAMPLE/T/3"


@pytest.mark.parametrize("url", [None, "https://a.example/?batch={batch}", "https://a.example/{batch}"])
def test_other_addresses_leave_the_tray_to_short_text(url):
    job = one(url)
    assert tray_url(job, job.trays[0]) is None
    assert tray_text(job, job.trays[0]) == "TRAY 3 2027-03-06 27-014-K"


def test_a_full_tray_names_as_many_batches_as_fit():
    kind = map_jobs.TRAYS["pot-18"]
    batches = [map_jobs.batch(i, kind, 2) for i in range(9)]
    job = map_jobs.job(batches, [map_jobs.fill(kind, batches)], record_url=None)
    assert tray_text(job, job.trays[0]) == "TRAY 1 2027-03-06 27-014-K 27-015-9 27-016-X"


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("Żółta Łódź", "ZOLTA LODZ"),
        ("Čeština ďábel", "CESTINA DABEL"),
        ("Крюк Щедрый", "KRYUK SHCHEDRYI"),
        ("Άσπρο κρεμμύδι", "ASPRO KREMMYDI"),
        ("Straße", "STRASSE"),
        ("Việt  Nam", "VIET NAM"),
        ("Cœur d'été, 3×2", "COEUR DETE. 3X2"),
        ("☃ 雪", ""),
    ],
)
def test_names_of_three_scripts_are_written_in_plain_letters(name, plain):
    assert plain_letters(name) == plain
