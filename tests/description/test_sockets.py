"""The pole at the centre of a barrel plug, as people write it."""

import pytest

from postcheck.description.sockets import centre_of, is_barrel, size_of


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
