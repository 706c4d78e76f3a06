"""The pole at the centre of a barrel plug, as people write it."""

import pytest

from postcheck.description.sockets import centre_of, is_barrel, size_of, sized


@pytest.mark.parametrize(
    ("text", "size", "centre", "barrel"),
    [
        ("5.5/2.1 mm, centre positive", "5.5/2.1 mm", "positive", True),
        ("barrel 5.5/2.1 centre negative", "barrel 5.5/2.1", "negative", True),
        ("5.5 x 2.1 (center +)", "5.5 x 2.1", "positive", True),
        ("5.5 x 2.1 mm tip -", "5.5 x 2.1 mm", "negative", True),
        ("negative centre, 3.5/1.35", "3.5/1.35", "negative", True),
        ("5.5/2.1 mm", "5.5/2.1 mm", "", True),
        ("USB-C", "USB-C", "", False),
        ("upper", "upper", "", False),
        ("at the centre of the base", "at the centre of the base", "", False),
    ],
)
def test_what_a_socket_says(text: str, size: str, centre: str, barrel: bool) -> None:
    assert (size_of(text), centre_of(text), is_barrel(text)) == (size, centre, barrel)


def test_no_socket_says_nothing() -> None:
    assert centre_of(None) == ""


@pytest.mark.parametrize(
    ("plug", "socket", "goes", "loose"),
    [
        ("5.5/2.1 mm", "barrel 5.5 x 2.1, centre negative", True, False),
        ("3.5/1.3 mm", "3.5/1.35 mm", True, False),
        ("3.5/1.35 mm", "3.5/1.3 mm", True, False),
        # a bore of 2.5 mm goes over a pin of 2.1 mm; a pin of 2.5 mm does not go into a bore of 2.1 mm
        ("5.5/2.5 mm", "5.5/2.1 mm", True, True),
        ("5.5/2.1 mm", "5.5/2.5 mm", False, False),
        # 0.8 mm wider, it hangs beside the pin
        ("5.5/2.5 mm", "5.5/1.7 mm", False, True),
        ("3.5/1.35 mm", "5.5/2.1 mm", False, False),
        ("5.5/2.5 mm locking", "5.5/2.1 mm", False, True),
        ("5.5/2.5 mm locking", "5.5/2.1 mm, locking", True, True),
        # a tenth more or less is the same size by another name, 0.15 mm is another size
        ("5.5/2.1 mm", "5.4/2.1 mm", True, False),
        ("5.5/2.1 mm", "5.35/2.1 mm", False, False),
        ("5.35/2.1 mm", "5.5/2.1 mm", False, False),
        ("5.5/2.1 mm", "5.5/2.2 mm", True, False),
        ("5.5/2.1 mm", "5.5/2.25 mm", False, False),
        ("5.5/2.2 mm", "5.5/2.1 mm", True, False),
        ("5.5/2.22 mm", "5.5/2.1 mm", True, True),
        ("5.5/2.5 mm", "5.5/2.06 mm", True, True),
        ("5.5/2.5 mm", "5.5/2.04 mm", False, True),
        ("upper", "upper", True, False),
        ("upper", "lower", False, False),
        ("barrel", "5.5/2.1 mm", False, False),
    ],
)
def test_which_plug_goes_where(plug: str, socket: str, goes: bool, loose: bool) -> None:
    assert sized(plug).goes_into(sized(socket)) == goes
    assert sized(plug).loose_in(sized(socket)) == loose


def test_what_is_no_barrel_has_no_size() -> None:
    assert sized("upper") == (0.0, 0.0, "upper")
    assert sized("barrel 5.5 x 2.1 mm locking") == (5.5, 2.1, "locking")
