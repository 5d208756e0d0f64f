"""Every public class: frozen, comparable, picklable, with a text that reads and a card."""

import inspect
import re
from html.parser import HTMLParser

import pytest
from loamline._cards import CAUTION
from things import CLASSES, things

import loamline as ll


@pytest.fixture(scope="module")
def all_things(tmp_path_factory):
    return {**things(), "Journal": ll.Journal(tmp_path_factory.mktemp("journal"))}


@pytest.mark.parametrize("name", CLASSES)
def test_it_is_frozen_comparable_and_picklable(name, all_things, round_trip):
    thing = all_things[name]
    assert thing == thing and thing != "a word" and not thing == None  # noqa: E711, PLR0124
    assert round_trip(thing) == thing
    with pytest.raises(TypeError):
        hash(thing)
    if name != "Journal":
        with pytest.raises((AttributeError, TypeError)):
            thing.something = 1
        for member, value in vars(type(thing)).items():
            if inspect.isgetsetdescriptor(value):
                with pytest.raises((AttributeError, TypeError)):
                    setattr(thing, member, None)


@pytest.mark.parametrize("name", CLASSES)
def test_its_text_reads(name, all_things):
    text = repr(all_things[name])
    # By its own name, or by the call that makes it.
    assert name.lower() in text.lower() and " object at 0x" not in text and len(text) < 1500


class _Checked(HTMLParser):
    """Sees to it that what is opened is closed."""

    def __init__(self):
        super().__init__()
        self.open, self.words = [], []

    def handle_starttag(self, tag, attrs):
        self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        pass

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


@pytest.mark.parametrize("name", CLASSES)
def test_its_card_has_numbers_and_a_caution(name, all_things):
    thing = all_things[name]
    card = thing._repr_html_()
    read = _Checked()
    read.feed(card)
    assert read.open == []
    words = " ".join(read.words)
    assert words.startswith(name) and CAUTION in words
    assert re.search(r"\d", words) or name in ("Journal", "PocketCard", "Ground")
    assert " object at 0x" not in words and len(card) < 40_000
    assert not re.search(r"https?://", re.sub(r"<details>.*</details>", "", card))


def test_cards_of_what_is_drawn_have_a_small_picture(all_things):
    for name in ("Ride", "Flight", "Loads", "Passes", "Site", "Wall", "Profile", "Landing", "Line", "Tradeoff"):
        card = all_things[name]._repr_html_()
        assert "<svg" in card and "role='img'" in card, name
        numbers = [float(v) for v in re.findall(r"(?<=[ '])-?\d+\.\d(?=[,' ])", card[card.index("<svg") :])]
        assert numbers and min(numbers) >= 0.0, name


def test_everything_public_is_seen_here(all_things):
    assert set(CLASSES) == set(all_things)
