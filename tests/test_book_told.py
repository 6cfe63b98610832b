"""What was printed of a batch, read back from a book that may be damaged or from elsewhere: what can be meant stays."""

import json

import pytest

from traysheets.book.told import told_in

MEANT = {
    "emerge_to": "2027-03-20",
    "crop": "Onion",
    "germination": 0.85,
    "stations": 3,
    "steps": [{"step": "sow", "first": "2027-03-06", "last": None, "what": "Sow", "details": ""}],
    "runs": [{"tray": 1, "first": "A1", "last": "B2", "cells": 8}],
    "of a later version": [1, 2],
}


def test_what_can_be_meant_is_kept() -> None:
    assert told_in(json.dumps(MEANT)) == MEANT


@pytest.mark.parametrize(
    ("fact", "value"),
    [
        ("emerge_to", "soon"),
        ("emerge_to", "0027-03-20"),
        ("emerge_to", 20270320),
        ("crop", ["Onion"]),
        ("germination", 85),
        ("germination", True),
        ("stations", 2.5),
        ("steps", {"sow": "2027-03-06"}),
        ("steps", [{"step": "sow", "first": "in March"}]),
        ("steps", [{"step": "sow", "first": "2027-03-06", "details": 3}]),
        ("runs", [{"tray": 0, "first": "A1", "last": "B2"}]),
        ("runs", [{"tray": 1, "first": "A1"}]),
        ("runs", ["1: A1"]),
    ],
)
def test_what_cannot_be_meant_counts_as_not_kept_and_all_else_stays(fact: str, value: object) -> None:
    others = {name: kept for name, kept in MEANT.items() if name != fact}
    assert told_in(json.dumps(MEANT | {fact: value})) == others


@pytest.mark.parametrize("text", ["", "{", "[]", '{"germination": NaN}', '{"germination": 1e999}', "[" * 100_000])
def test_a_text_that_cannot_be_read_tells_nothing(text: str) -> None:
    assert told_in(text) == {}
