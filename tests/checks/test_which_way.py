"""Two posts between the same two places: which of them a conductor goes through is asked, never guessed."""

from __future__ import annotations

import postcheck
from postcheck.survey import Survey

BUILD = """
format = 1
[build]
name = "Ferry on two posts"
[usual]
run = "ptfe-28"
lead = "ptfe-30"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[post]
from = "base"
to = "hull"
bore = "4 mm"
length = "100 mm"
{post}
[passage.aft]
from = "{start}"
to = "{end}"
bore = "4 mm"
length = "120 mm"
{aft}
[place]
base = {{ access = "open" }}
hull = {{ access = "cover" }}
deck = {{ access = "cover" }}
[circuit.lights]
supply = "main"
[[lamp]]
name = "saloon"
circuit = "lights"
kind = "smd-0603-white"
place = "hull"
resistor = "1k 1/4 W"
{lead}
[[run]]
name = "feed"
line = "lights"
ends = ["base", "hull"]
length = "160 mm"
{feed}
[[run]]
line = "main-"
ends = ["hull", "base"]
length = "160 mm"
{back}
"""


def text(**words: str) -> str:
    usual = dict.fromkeys(("post", "aft", "lead", "feed", "back"), "") | {"start": "hull", "end": "base"}
    return BUILD.format(**(usual | words))


def _typed(name: str) -> str:
    return f'such as through = ["{name}"] in the table of its passage'


def asked(**words: str) -> list[str]:
    judged = postcheck.check(postcheck.loads(text(**words))).files[0]
    asks = [each for each in judged.not_judged if "through = " in each.missing]
    assert all(each.vital for each in asks)
    assert judged.verdict == "incomplete" or not asks
    return [each.missing for each in asks]


def lying(**words: str) -> dict[str, list[str]]:
    passages = Survey(postcheck.loads(text(**words))).passages
    return {name: [member.name for member in passage.members] for name, passage in passages.items()}


BOTH = "which passage between 'base' and 'hull' ('post', 'aft') is the way of "


def test_each_that_says_nothing_is_named_and_lies_in_none() -> None:
    assert asked() == [f"{BOTH}'feed', 'main- hull-base', {_typed('feed')}"]
    assert lying() == {"post": [], "aft": []}
    assert asked(feed='through = ["post"]') == [f"{BOTH}'main- hull-base', {_typed('main- hull-base')}"]
    many = "".join(
        f'[[run]]\nname = "s{n}"\nspare = true\nends = ["base", "hull"]\nlength = "160 mm"\n'
        for n in range(4)
    )
    assert asked(back=many) == [f"{BOTH}'feed', 'main- hull-base', 's0' and 3 more, {_typed('feed')}"]


def test_said_with_the_run_or_with_the_passage() -> None:
    one_each = {"feed": 'through = ["post"]', "back": 'through = ["aft"]'}
    assert lying(**one_each) == {"post": ["feed"], "aft": ["main- hull-base"]}
    listed = {"post": 'through = ["feed"]', "aft": 'through = ["main- hull-base"]'}
    assert lying(**listed) == {"post": ["feed"], "aft": ["main- hull-base"]}
    # one tube after the other is said too
    after = 'through = ["post", "aft"]'
    assert lying(feed=after, back=after) == {name: ["feed", "main- hull-base"] for name in ("post", "aft")}


def test_a_lead_is_asked_too() -> None:
    said = {"feed": 'through = ["post"]', "back": 'through = ["post"]'}
    lead = 'lead = { length = "200 mm", to = "base" }'
    assert asked(**said, lead=lead) == [f"{BOTH}'lead of saloon', {_typed('saloon')}"]
    assert lying(**said, lead=lead, aft='through = ["saloon"]')["aft"] == ["saloon", "saloon"]
    # one that ends where it begins goes nowhere
    assert asked(**said, lead='lead = "20 mm to hull"') == []


def test_a_lead_of_two_ways_is_asked_for_the_one_that_is_open() -> None:
    said = {"feed": 'through = ["post"]', "back": 'through = ["post"]'}
    lead = 'lead = { length = "200 mm", to = "hull", back = { to = "base" } }'
    assert asked(**said, lead=lead) == [f"{BOTH}'lead of saloon', {_typed('saloon')}"]


def test_a_link_between_two_lamps_of_a_chain_is_asked_for_its_way_too() -> None:
    said = {"feed": 'through = ["post"]', "back": 'through = ["post"]'}
    chain = 'series = 3\nplaces = ["hull", "{}", "deck"]\nlinks = ["160 mm", "90 mm"]\nlead = {{ length = "20 mm", to = "hull", back = {{ to = "deck" }} }}'
    assert asked(**said, lead=chain.format("base")) == [f"{BOTH}'lead of saloon', {_typed('saloon')}"]
    assert asked(**said, lead=chain.format("deck")) == []


def test_passages_to_other_places_need_no_word() -> None:
    assert asked(start="hull", end="deck") == []
    # the metal of a post is no conductor in it
    assert asked(feed='through = ["post"]', back='body = true\nohms = "1 mohm"') == []


def test_what_nothing_goes_through_is_not_asked_about() -> None:
    third = (
        '[passage."fore arm"]\nfrom = "deck"\nto = "hull"\nbore = "3 mm"\nlength = "20 mm"\n'
        '[passage."aft arm"]\nfrom = "hull"\nto = "deck"\nbore = "3 mm"\nlength = "20 mm"\n'
    )
    assert asked(feed='through = ["post"]', back='through = ["aft"]\n' + third) == []


def test_two_in_a_row_are_asked_of_what_goes_from_end_to_end() -> None:
    far = '[[run]]\nname = "far"\nspare = true\nends = ["deck", "base"]\nlength = "300 mm"\n'
    on = {"start": "hull", "end": "deck"}
    (asks,) = asked(**on, back=far)
    assert asks.startswith("whether 'far' goes through 'post', 'aft' between 'base' and 'deck', ")
    assert asked(**on, back=f"{far}through = []") == []
    assert asked(**on, back=far, post='through = ["far"]', aft='through = ["far"]') == []
    assert lying(**on, back=far, post='through = ["far"]', aft='through = ["far"]') == {
        "post": ["feed", "main- hull-base", "far"],
        "aft": ["far"],
    }
    # a lead that goes all the way cannot say that it lies outside, so it leaves nothing vital open
    lead = 'lead = "300 mm to base"'
    judged = postcheck.check(
        postcheck.loads(text(**on, lead=lead).replace('place = "hull"\nres', 'place = "deck"\nres'))
    )
    (question,) = [each for each in judged.files[0].not_judged if "goes through" in each.missing]
    assert (question.vital, "'lead of saloon'" in question.missing) == (False, True)
    # one goes all the way
    assert asked(start="base", end="deck", back=far) == []
