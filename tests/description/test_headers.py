"""A header that is none of the file's: what to write instead."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.problems import BuildError

HEAD = 'format = 1\n[build]\nname = "Launch"\n[place.base]\naccess = "open"\n'


@pytest.mark.parametrize(
    ("table", "hint"),
    [
        (
            '[place.fore.mast]\naccess = "open"\n',
            'a name with a dot stands in quotes: write [place."fore.mast"]',
        ),
        ('[supply.main.x]\nkind = "usb"\n', 'a name with a dot stands in quotes: write [supply."main.x"]'),
        ('[supply-main]\nkind = "usb"\n', "did you mean 'supply'? Write [supply.main]"),
        ('[places.hull]\naccess = "open"\n', "did you mean 'place'? Write [place.hull]"),
        (
            '[lamp-bow]\nkind = "x"\n',
            "did you mean 'lamp'? Write [[lamp]], in double brackets, for each of them",
        ),
        ('[lamp]\nkind = "x"\n', "write [[lamp]], in double brackets: there may be several"),
        (
            '[run.x]\nline = "a"\n',
            'write [[run]], in double brackets: there may be several, and below it name = "x"',
        ),
        ('[build-x]\nname = "a"\n', "did you mean 'build'? Write [build]"),
        ("[build.x]\ny = 1\n", "write [build]"),
        ("[post.x]\ny = 1\n", "write [post], or [passage.x] for another way through"),
        ('[[place]]\naccess = "open"\n', "its keys are given elsewhere already; put them together"),
    ],
)
def test_what_to_write_instead(table: str, hint: str) -> None:
    with pytest.raises(BuildError) as refused:
        postcheck.loads(HEAD + table)
    assert refused.value.problems[-1].hint == hint


@pytest.mark.parametrize(("key", "most"), [("fold", 180), ("bends", 1080)])
def test_how_far_a_thing_turns(key: str, most: int) -> None:
    """A hinge folds onto itself; a tube has three full turns in all; exactly that is no slip."""
    post = '[post]\nfrom = "base"\nto = "base"\nbore = "5 mm"\nlength = "1 m"\n'
    for turn, refused in ((most, False), (most + 0.01, True)):
        try:
            postcheck.loads(f'{HEAD}{post}{key} = "{turn} deg"\n')
            said = ""
        except BuildError as error:
            said = str(error)
        assert (f"'{key}' is more than {most} deg" in said) is refused
