"""The metal of a post as a conductor: one line, in a passage."""

import pytest

import postcheck

BUILD = """
format = 1
[build]
name = "Tender on a brass post"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[post]
from = "base"
to = "hull"
bore = "4 mm"
length = "100 mm"
[place]
base = { access = "open" }
hull = { access = "cover" }
bow = { access = "cover" }
[circuit.lights]
supply = "main"
[[lamp]]
name = "lamp"
circuit = "lights"
kind = "smd-0603-white"
place = "hull"
resistor = "1k 1/4 W"
[[run]]
line = "lights"
ends = ["base", "hull"]
length = "120 mm"
wire = "ptfe-28"
[[run]]
line = "main-"
ends = ["base", "hull"]
ohms = "1 mohm"
body = true
"""


def test_the_post_may_be_the_return():
    assert postcheck.loads(BUILD).run[1].body


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ('line = "main+"\nends = ["base", "hull"]', "dead short"),
        ('line = "main-"\nends = ["hull", "bow"]', "no metal to conduct"),
    ],
)
def test_metal_that_cannot_be(more: str, says: str):
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(BUILD + f'[[run]]\n{more}\nohms = "1 mohm"\nbody = true\n')
    [problem] = caught.value.problems
    assert says in problem.says
    assert problem.line == BUILD.count("\n") + 5
