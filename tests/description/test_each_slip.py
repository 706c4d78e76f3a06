"""What is said of each slip, and what to type instead: every message read by eye, word by word."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.problems import BuildError, Problem

HEAD = 'format = 1\n[build]\nname = "Tender"\n'
BASE = """[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
[place.base]
access = "open"
[place.hull]
access = "cover"
[circuit.a]
supply = "main"
[[lamp]]
name = "one"
circuit = "a"
kind = "smd-0603-red"
place = "base"
"""

# what is typed, below the lamp or instead of what is there; which check, where, whether the key is shown, what is said and the hint
SLIPS: list[tuple[str | tuple[str, str], str, tuple[str | int, ...], bool, str, str | None]] = [
    ('series = "2"', 'wrong-type', ('lamp', 0, 'series'), False, "this is the text '2'",
     'a whole number is needed, such as series = 3 (lamps one after the other in a string)'),
    ('series = 2.5', 'wrong-type', ('lamp', 0, 'series'), False, 'this is a number',
     'a whole number is needed, such as series = 3 (lamps one after the other in a string)'),
    ('series = 0', 'out-of-range', ('lamp', 0, 'series'), False, '0 is out of range',
     'it must be at least 1'),
    ('series = 10001', 'out-of-range', ('lamp', 0, 'series'), False, '10001 is out of range',
     'it must be at most 200'),
    ('series = 99999999999999999999999', 'out-of-range', ('lamp', 0, 'series'), False, 'a number is out of range',
     'it must be at most 200'),
    ('keep = "yes"', 'wrong-type', ('lamp', 0, 'keep'), False, "this is the text 'yes'",
     'true or false, without quotes is needed'),
    ('places = "base, hull"', 'wrong-type', ('lamp', 0, 'places'), False, "this is the text 'base, hull'",
     'write places = ["base", "hull"]'),
    ('places = "base to hull"', 'wrong-type', ('lamp', 0, 'places'), False, "this is the text 'base to hull'",
     'write places = ["base", "hull"]'),
    ('places = "base"', 'wrong-type', ('lamp', 0, 'places'), False, "this is the text 'base'",
     'a list in [ ] is needed, such as places = ["keel", "bow", "bow"] (a chain across places: where each lamp of a string sits)'),
    ('places = 3', 'wrong-type', ('lamp', 0, 'places'), False, 'this is a number',
     'a list in [ ] is needed, such as places = ["keel", "bow", "bow"] (a chain across places: where each lamp of a string sits)'),
    ('places = []', 'out-of-range', ('lamp', 0, 'places'), False, 'the list is empty',
     'at least 1 needed'),
    (('name = "one"', 'name = ""'), 'out-of-range', ('lamp', 0, 'name'), False, 'the text is empty',
     'at least 1 needed'),
    (('name = "one"', 'name = "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"'), 'too-long', ('lamp', 0, 'name'), False, 'this text is longer than 120 characters',
     'say it more briefly'),
    (('name = "one"', 'name = 3'), 'wrong-type', ('lamp', 0, 'name'), False, 'this is a number',
     'a text in quotes is needed, such as name = "nose lamp" (its name; made from circuit and place if not given)'),
    (('name = "one"', 'name = ["a"]'), 'wrong-type', ('lamp', 0, 'name'), False, 'this is a list',
     'a text in quotes is needed, such as name = "nose lamp" (its name; made from circuit and place if not given)'),
    (('name = "one"', 'name = { a = 1 }'), 'wrong-type', ('lamp', 0, 'name'), False, 'this is a table',
     'a text in quotes is needed, such as name = "nose lamp" (its name; made from circuit and place if not given)'),
    (('name = "one"', 'name = 2026-03-01'), 'wrong-type', ('lamp', 0, 'name'), False, 'this is a date or time',
     'a text in quotes is needed, such as name = "nose lamp" (its name; made from circuit and place if not given)'),
    ('behaviour = "blink"', 'choice', ('lamp', 0, 'behaviour'), False, "'behaviour' cannot be 'blink'",
     'write behaviour = "flash"; it is "steady", "flash", "dim" or "fade"'),
    ('behaviour = "stedy"', 'choice', ('lamp', 0, 'behaviour'), False, "'behaviour' cannot be 'stedy'",
     'did you mean "steady"? It is "steady", "flash", "dim" or "fade"'),
    ('behaviour = "xyz"', 'choice', ('lamp', 0, 'behaviour'), False, "'behaviour' cannot be 'xyz'",
     'write "steady", "flash", "dim" or "fade"'),
    ('behaviour = 3', 'choice', ('lamp', 0, 'behaviour'), False, "'behaviour' cannot be 3",
     'write "steady", "flash", "dim" or "fade"'),
    (('access = "cover"', 'access = "glued"'), 'choice', ('place', 'hull', 'access'), False, "'access' cannot be 'glued'",
     'write access = "sealed"; it is "open", "cover" or "sealed"'),
    (('kind = "adaptor"', 'kind = "usb-c"'), 'choice', ('supply', 'main', 'kind'), False, "'kind' cannot be 'usb-c'",
     'write kind = "usb" and port = "type-c"'),
    ('lead = 120', 'wrong-type', ('lamp', 0, 'lead'), False, '120 stands without quotes and unit',
     'write lead = "120 mm", in the unit that you measured it in'),
    ('lead = "-120 mm to hull"', 'negative', ('lamp', 0, 'lead'), False, "'-120 mm' is negative",
     'a length cannot be below zero here'),
    ('resistor = 470', 'wrong-type', ('lamp', 0, 'resistor'), False, '470 stands without quotes and unit',
     'write resistor = "470 ohm", in the unit that you measured it in'),
    ('resistor = ["470 ohm"]', 'wrong-type', ('lamp', 0, 'resistor'), False, 'this is a list',
     'write a text in quotes, or a table, such as resistor = "1k5 1/4 W at keel" (the resistor of each string: with the lamp, or where its lead ends)'),
    ('[[run]]\nline = "a"\nends = ["base"]\nlength = "1 m"', 'out-of-range', ('run', 0, 'ends'), False, 'the list has fewer than 2',
     'at least 2 needed'),
    ('[[run]]\nline = "a"\nends = ["base","hull","bow"]\nlength = "1 m"', 'out-of-range', ('run', 0, 'ends'), False, 'a run joins two places',
     'write a [[run]] of its own to each further place'),
    ('[[run]]\nline = "a"\nfrom = "base"\nto = "hull"\nlength = "1 m"', 'unknown-key', ('run', 0, 'from'), True, "run number 1 knows no key 'from'",
     'write ends = ["base", "hull"]'),
    ('[[run]]\nline = "a"\nends = "base - hull"\nlength = "1 m"', 'wrong-type', ('run', 0, 'ends'), False, "this is the text 'base - hull'",
     'write ends = ["base", "hull"]'),
    ('[[run]]\nline = "a"\nlength = "1 m"', 'missing', ('run', 0, 'ends'), False, "run number 1 has no 'ends'",
     'add ends = ["base", "keel"] or what holds here'),
    ('[[run]]\nline = "a"\nends = ["base","hull"]\nlength = 300', 'no-unit', ('run', 0, 'length'), False, 'the number 300 has no unit',
     'write length = "300 mm", in the unit that you measured it in'),
    ('[[run]]\nline = "a"\nends = ["base","hull"]\nlength = "300 mm"\nconductors = "two"', 'wrong-type', ('run', 0, 'conductors'), False, "this is the text 'two'",
     'a whole number is needed, such as conductors = 2 (conductors side by side on the line)'),
    ('[[run]]\nline = "a"\nends = ["base", 3]\nlength = "1 m"', 'wrong-type', ('run', 0, 'ends', 1), False, 'this is a number',
     'a text in quotes is needed, such as ends = ["base", "keel"] (the places it joins)'),
    ('[run]\nline = "a"\nends = ["base","hull"]', 'wrong-type', ('run',), False, 'this is a table',
     'write [[run]], in double brackets: there may be several'),
    ('[run.feed]\nline = "a"\nends = ["base","hull"]', 'wrong-type', ('run',), False, 'this is a table',
     'write [[run]], in double brackets: there may be several, and below it name = "feed"'),
    ('[run]\nline = "a"\n[run.feed]\nends = ["base","hull"]', 'wrong-type', ('run',), False, 'this is a table',
     'write [[run]], in double brackets: there may be several'),
    ('[[post]]\nfrom = "base"', 'wrong-type', ('post',), False, 'this is a list',
     'write [post], in single brackets'),
    ('[[wire]]\nline = "a"\nends = ["base","hull"]', 'wrong-type', ('wire',), False, 'this is a list',
     'write [[run]] for what joins two places; a [wire.NAME] says what sort of wire there is'),
    ('[[wire]]\nstrands = 7', 'wrong-type', ('wire',), False, 'this is a list',
     'write [wire.NAME], in single brackets, with a name of its own'),
    ('[[wire]]\nname = "fine"\nstrands = 7', 'wrong-type', ('wire',), False, 'this is a list',
     'write [wire.fine], in single brackets, with a name of its own and no `name` below it'),
    ('[[wire]]\nstrands = 7\n[[wire]]\nline = "a"', 'wrong-type', ('wire',), False, 'this is a list',
     'write [[run]] for what joins two places; a [wire.NAME] says what sort of wire there is'),
    ('[[usual]]\nline = "a"', 'wrong-type', ('usual',), False, 'this is a list',
     'write [usual], in single brackets'),
    (('[place.base]\naccess = "open"', '[place]\nbase = "open"'), 'wrong-type', ('place', 'base'), False, "this is the text 'open'",
     'write [place.base] and below it access = "open"'),
    (('[supply.main]', '[supply]'), 'wrong-type', ('supply',), False, '[supply] has no name of its own',
     'write [supply.main], or another name after the dot'),
    ('[post.main]\nfrom = "base"', 'unknown-key', ('post', 'main'), True, '[post.main] has a name of its own, and there is one [post] alone',
     'write [post], or [passage.main] for another way through'),
    ('[usual.x]\nlead = "y"', 'unknown-key', ('usual', 'x'), True, '[usual.x] has a name of its own, and there is one [usual] alone',
     'write [usual]'),
    (('[[lamp]]', '[[lamps]]'), 'unknown-key', ('lamps',), True, "the file knows no key 'lamps'",
     "did you mean 'lamp'? Write [[lamp]], in double brackets, for each of them"),
    ('[usuals]\nlead = "enamel-0.10"', 'unknown-key', ('usuals',), True, "the file knows no key 'usuals'",
     "did you mean 'usual'? Write [usual]"),
    ('seris = 3', 'unknown-key', ('lamp', 0, 'seris'), True, "lamp 'one' knows no key 'seris'",
     "did you mean 'series'?"),
    (('[circuit.a]', 'wibble = 3\n[circuit.a]'), 'unknown-key', ('place', 'hull', 'wibble'), True, "place 'hull' knows no key 'wibble'",
     'the keys here are access, heat, material, opening, opens_with, painted, surface, vented'),
    (('access = "cover"', 'surface = "10 cm2"'), 'missing', ('place', 'hull', 'access'), False, "place 'hull' has no 'access'",
     'add access = "open", "cover" or "sealed"'),
    (('kind = "adaptor"\n', ''), 'missing', ('supply', 'main', 'kind'), False, "supply 'main' has no 'kind'",
     'add kind = "adaptor", "battery", "usb" or "converter"'),
    (('kind = "smd-0603-red"\n', ''), 'missing', ('lamp', 0, 'kind'), False, "lamp 'one' has no 'kind'",
     'add kind = "smd-0603-warm-white" or what holds here'),
    (('name = "one"\ncircuit = "a"\nkind = "smd-0603-red"\nplace = "base"', 'circuit = "a"\nkind = "smd-0603-red"'), 'missing', ('lamp', 0, 'place'), False, "lamp number 1 has no 'place'",
     'add place = "nose" or what holds here'),
    (('[place.base]', 'fuse = 0.5\n[place.base]'), 'wrong-type', ('supply', 'main', 'fuse'), False, '0.5 stands without quotes and unit',
     'write fuse = "0.5 A", in the unit that you measured it in'),
    (('volts = "12 V"', 'volts = ["12 V"]'), 'wrong-type', ('supply', 'main', 'volts'), False, 'this is a list',
     'a voltage is needed, such as volts = "12 V" (rated output voltage)'),
    (('volts = "12 V"', 'volts = "12 W"'), 'wrong-dimension', ('supply', 'main', 'volts'), False, "'12 W' is a power",
     'a voltage is needed, such as volts = "12 V"'),
    (('volts = "12 V"', 'volts = "12"'), 'no-unit', ('supply', 'main', 'volts'), False, "'12' has no unit",
     'write volts = "12 V", in the unit that you measured it in'),
    (('volts = "12 V"', 'volts = 12'), 'no-unit', ('supply', 'main', 'volts'), False, 'the number 12 has no unit',
     'write volts = "12 V", in the unit that you measured it in'),
    (('volts = "12 V"', 'volts = "0 V"'), 'out-of-range', ('supply', 'main', 'volts'), False, "'volts' is zero",
     'it must be above zero here'),
    (('rated = "1 A"', 'tolerance = "100 %"'), 'out-of-range', ('supply', 'main', 'tolerance'), False, "'tolerance' is 100 %",
     'it must be below 100 % here'),
    (('volts = "12 V"', 'volts = nan'), 'not-finite', ('supply', 'main', 'volts'), False, 'nan is no size of a real thing',
     'write it as "12 V"'),
    (('volts = "12 V"', 'volts = inf'), 'not-finite', ('supply', 'main', 'volts'), False, 'inf is no size of a real thing',
     'write it as "12 V"'),
    ('wanted = "3..5..7 mA"', 'not-a-quantity', ('lamp', 0, 'wanted'), False, "'3..5..7 mA' is not a range",
     'a range has two ends (the current it is meant to have: dim on purpose)'),
    ('wanted = "3..5"', 'no-unit', ('lamp', 0, 'wanted'), False, "'3..5' has no unit",
     'write wanted = "3..5 mA", in the unit that you measured it in'),
    ('links = "90 mm"', 'wrong-type', ('lamp', 0, 'links'), False, "this is the text '90 mm'",
     'a list in [ ] is needed, such as links = ["120 mm"] (the wires between the lamps of a chain, each with its length)'),
    ('links = [90]', 'wrong-type', ('lamp', 0, 'links', 0), False, '90 stands without quotes and unit',
     'write links = "90 mm", in the unit that you measured it in'),
    ('[[plug]]\nname = "p"\nat = "hull"\npins = "a and main-"', 'wrong-type', ('plug', 0, 'pins'), False, "this is the text 'a and main-'",
     'write pins = ["a", "main-"]'),
    (('[[lamp]]', '[lamp]'), 'wrong-type', ('lamp',), False, 'this is a table',
     'write [[lamp]], in double brackets: there may be several'),
    (('circuit = "a"\nkind = "smd-0603-red"\nplace = "base"', 'kind = "smd-0603-rgb"\nplace = "base"\ndice = { red = { circuit = "a", wibble = 1 } }'), 'unknown-key', ('lamp', 0, 'dice', 'red', 'wibble'), True, "lamp 'one', dice, red knows no key 'wibble'",
     'the keys here are circuit, resistor, wanted'),
    ('lead = "20 mm hull"', 'bad-form', ('lamp', 0, 'lead'), False, "'hull' in '20 mm hull' is not understood",
     'write "20 mm to hull"'),
    ('lead = { length = "20 mm", colours = "red/black" }', 'wrong-type', ('lamp', 0, 'lead', 'colours'), False, "this is the text 'red/black'",
     'a list in [ ] is needed, such as colours = ["red", "black"] (colours: feed first, then back; of several colours of light each feed, then what they share)'),
    ('lead = { length = 20 }', 'no-unit', ('lamp', 0, 'lead', 'length'), False, 'the number 20 has no unit',
     'write length = "20 mm", in the unit that you measured it in'),
    ('count = 2\nleads = ["90", "80 mm"]', 'no-unit', ('lamp', 0, 'leads', 0), False, "'90' has no unit",
     'write "90 mm", in the unit that you measured it in'),
    ('[usual]\nresistor = 0.25', 'wrong-type', ('usual', 'resistor'), False, '0.25 stands without quotes and unit',
     'write a text in quotes, with its unit, such as resistor = "1/4 W 5 %" (power or size and tolerance of the resistors)'),
    ('[usual]\nlead = 3', 'wrong-type', ('usual', 'lead'), False, 'this is a number',
     'a text in quotes is needed, such as lead = "enamel-0.10" (wire of the leads)'),
    ('[post]\nfrom = "base"\nto = "hull"\nbore = 5\nlength = "100 mm"', 'no-unit', ('post', 'bore'), False, 'the number 5 has no unit',
     'write bore = "5 mm", in the unit that you measured it in'),
    ('[post]\nfrom = "base"\nto = "hull"\nbore = "5"\nlength = "100 mm"', 'no-unit', ('post', 'bore'), False, "'5' has no unit",
     'write bore = "5 mm", in the unit that you measured it in'),
    ('[post]\nfrom = "base"\nto = "hull"\nbore = "5 mm"\nlength = "100 mm"\nturn = "90"', 'no-unit', ('post', 'turn'), False, "'90' has no unit",
     'write turn = "90 deg", in the unit that you measured it in'),
    ('[post]\nfrom = "base"\nto = "hull"\nbore = "5 mm"\nlength = "100 mm"\nturn = 90', 'no-unit', ('post', 'turn'), False, 'the number 90 has no unit',
     'write turn = "90 deg", in the unit that you measured it in'),
    ('[post]\nfrom = "base"\nto = "hull"\nbore = "5 mm"\nlength = "100 mm"\ncycles = "5000"', 'not-a-quantity', ('post', 'cycles'), False, "'5000' is not a number of cycles",
     'write "5000 cycles" or "10 /day for 10 years" (how often it turns or folds; 10 000 times if not said)'),
    ('[post]\nfrom = "base"\nto = "hull"\nbore = "5 mm"\nlength = "100 mm"\nfold = true', 'wrong-type', ('post', 'fold'), False, 'this is true or false',
     'an angle is needed, such as fold = "90 deg" (how far it folds, as a hinge does that bends its wires instead of twisting them)'),
    ('[cable.ribbon]\nflat = "6.4 x 0.9"', 'no-unit', ('cable', 'ribbon', 'flat'), False, "'6.4 x 0.9' has no unit",
     'write "6.4 x 0.9 mm", in the unit that you measured it in'),
    ('[cable.ribbon]\noutside = 3', 'no-unit', ('cable', 'ribbon', 'outside'), False, 'the number 3 has no unit',
     'write outside = "3 mm", in the unit that you measured it in'),
    (('[[lamp]]', 'behaviour = "flash"\nrate = 45\n[[lamp]]'), 'no-unit', ('circuit', 'a', 'rate'), False, 'the number 45 has no unit',
     'write rate = "45 /min", in the unit that you measured it in'),
    (('[[lamp]]', 'behaviour = "flash"\non_share = 0.25\n[[lamp]]'), 'no-unit', ('circuit', 'a', 'on_share'), False, 'the number 0.25 has no unit',
     'write "25 %", or "0.25 %" where that is meant'),
    (('[[lamp]]', 'behaviour = "flash"\non_share = "25"\n[[lamp]]'), 'no-unit', ('circuit', 'a', 'on_share'), False, "'25' has no unit",
     'write "25 %"'),
    (('[[lamp]]', 'output = 0.1\n[[lamp]]'), 'wrong-type', ('circuit', 'a', 'output'), False, '0.1 stands without quotes and unit',
     'write output = "0.1 A", in the unit that you measured it in'),
    (('[[lamp]]', 'output = { limit = 0.1 }\n[[lamp]]'), 'no-unit', ('circuit', 'a', 'output', 'limit'), False, 'the number 0.1 has no unit',
     'write limit = "0.1 A", in the unit that you measured it in'),
    (('[circuit.a]', '[[circuit]]\nname = "a"'), 'wrong-type', ('circuit',), False, 'this is a list',
     'write [circuit.a], in single brackets, with a name of its own and no `name` below it'),
    (('[supply.main]', '[[supply]]\nname = "main"'), 'wrong-type', ('supply',), False, 'this is a list',
     'write [supply.main], in single brackets, with a name of its own and no `name` below it'),
    (('[supply.main]', '[[supply]]'), 'wrong-type', ('supply',), False, 'this is a list',
     'write [supply.NAME], in single brackets, with a name of its own'),
    ('[lamp_kind.x]\nforward = "2.9/3.2/3.6"\nat = "20 mA"\nrated = "20 mA"', 'no-unit', ('lamp_kind', 'x', 'forward'), False, "'2.9/3.2/3.6' has no unit",
     'write forward = "2.9/3.2/3.6 V", in the unit that you measured it in'),
    ('[lamp_kind.x]\nforward = 3.2\nat = "20 mA"\nrated = "20 mA"', 'no-unit', ('lamp_kind', 'x', 'forward'), False, 'the number 3.2 has no unit',
     'write forward = "3.2 V", in the unit that you measured it in'),
    ('[lamp_kind.x]\nforward = [2.9, 3.2]\nat = "20 mA"\nrated = "20 mA"', 'wrong-type', ('lamp_kind', 'x', 'forward'), False, 'this is a list',
     'a voltage is needed, such as forward = "2.9/3.2/3.6 V" (forward voltage: least/typical/most; with a resistor inside that of the die alone, usual for its colour if not said)'),
    ('[lamp_kind.x]\nforward = "3 V"\nat = "20 mA"\nrated = "20 mA"\nper_kelvin = -2', 'no-unit', ('lamp_kind', 'x', 'per_kelvin'), False, 'the number -2 has no unit',
     'write per_kelvin = "-2 mV", in the unit that you measured it in'),
    ('[[load]]\nname = "w"\nkind = "engine"\ncircuit = "a"\nplace = "hull"\ntypical = "1 A"', 'choice', ('load', 0, 'kind'), False, "'kind' cannot be 'engine'",
     'write "motor", "sound", "inverter", "pixels" or "other"'),
    ('[[load]]\nname = "w"\ncircuit = "a"\nplace = "hull"\ntypical = 1', 'no-unit', ('load', 0, 'typical'), False, 'the number 1 has no unit',
     'write typical = "1 A", in the unit that you measured it in'),
    ('[[load]]\nname = "w"\ncircuit = "a"\nplace = "hull"', 'missing', ('load', 0, 'typical'), False, "load 'w' has no 'typical'",
     'add typical = "60 mA" or what holds here'),
    ('[[strip]]\ncircuit = "a"\nplace = "hull"', 'missing', ('strip', 0, 'kind'), False, "strip number 1 has no 'kind'",
     'add kind = "strip-12v-warm-white-60" or what holds here'),
    ('[[strip]]\ncircuit = "a"\nkind = "strip-12v-white-60"\nplace = "hull"\nsegments = true', 'wrong-type', ('strip', 0, 'segments'), False, 'this is true or false',
     'a whole number is needed, such as segments = 3 (how many whole segments, instead of `length`)'),
    ('[[plug]]\nname = "p"\nat = "hull"\npins = 3', 'wrong-type', ('plug', 0, 'pins'), False, 'this is a number',
     'a list in [ ] is needed, such as pins = ["running", "main-"] (the line on each pin, in order)'),
    ('[[plug]]\nname = "p"\nat = "hull"\npins = ["a"]\nkeyed = 1', 'wrong-type', ('plug', 0, 'keyed'), False, 'this is a number',
     'true or false, without quotes is needed'),
    ('[[join]]\nplace = "hull"\nlines = ["a"]', 'out-of-range', ('join', 0, 'lines'), False, 'the list has fewer than 2',
     'at least 2 needed'),
    ('[[join]]\nplace = "hull"\nlines = "a > b"', 'wrong-type', ('join', 0, 'lines'), False, "this is the text 'a > b'",
     'write lines = ["a", "b"]'),
    ('[stock]\nwires = "ptfe-28"', 'wrong-type', ('stock', 'wires'), False, "this is the text 'ptfe-28'",
     'a list in [ ] is needed, such as wires = ["ptfe-28", "ptfe-30"] (wires kept for runs, the most usual first)'),
    ('[[accept]]\nfinding = "x"', 'missing', ('accept', 0, 'reason'), False, "accept number 1 has no 'reason'",
     'add reason = "seen and found slight" or what holds here'),
    ('[[way]]\nfrom = "base"\nto = "hull"\nlength = "20"', 'no-unit', ('way', 0, 'length'), False, "'20' has no unit",
     'write length = "20 mm", in the unit that you measured it in'),
    (('[circuit.a]', 'heat = 0.5\n[circuit.a]'), 'no-unit', ('place', 'hull', 'heat'), False, 'the number 0.5 has no unit',
     'write heat = "0.5 W", in the unit that you measured it in'),
    (('[circuit.a]', 'surface = 38\n[circuit.a]'), 'no-unit', ('place', 'hull', 'surface'), False, 'the number 38 has no unit',
     'write surface = "38 cm2", in the unit that you measured it in'),
    (('[circuit.a]', 'painted = "no"\n[circuit.a]'), 'wrong-type', ('place', 'hull', 'painted'), False, "this is the text 'no'",
     'true or false, without quotes is needed'),
    (('access = "cover"', 'acess = "cover"'), 'unknown-key', ('place', 'hull', 'acess'), True, "place 'hull' knows no key 'acess'",
     "did you mean 'access'?"),
    (('access = "cover"', 'acess = "cover"\naccesss = "open"'), 'unknown-key', ('place', 'hull', 'acess'), True, "place 'hull' knows no key 'acess'",
     "did you mean 'access'?"),
    (('[[lamp]]', '[[leds]]'), 'unknown-key', ('leds',), True, "the file knows no key 'leds'",
     "did you mean 'lamp'? Write [[lamp]], in double brackets, for each of them"),
    ('[runs]\nline = "a"', 'unknown-key', ('runs',), True, "the file knows no key 'runs'",
     "did you mean 'run'? Write [[run]], in double brackets, for each of them"),
    ('[places.bow]\naccess = "open"', 'unknown-key', ('places',), True, "the file knows no key 'places'",
     "did you mean 'place'? Write [place.bow]"),
    ('[place-bow]\naccess = "open"', 'unknown-key', ('place-bow',), True, "the file knows no key 'place-bow'",
     "did you mean 'place'? Write [place.bow]"),
    ('[[lamp-x]]\nname = "y"', 'unknown-key', ('lamp-x',), True, "the file knows no key 'lamp-x'",
     "did you mean 'lamp'? Write [[lamp]], in double brackets, for each of them"),
    ('[[proof]]\nsubject = "one"\ndate = "yesterday"', 'wrong-type', ('proof', 0, 'date'), False, "this is the text 'yesterday'",
     'a date without quotes is needed, such as date = 2026-11-20 (when. Of several proofs of one thing the latest counts; one without a date counts as of the latest date above it in the file)'),
    (('[place.base]', 'fuse = "half an amp"\n[place.base]'), 'bad-form', ('supply', 'main', 'fuse'), False, "'half an amp' is not understood",
     'write it like "500 mA slow"'),
    (('[place.base]', 'instead = "12 V adaptor"\n[place.base]'), 'wrong-type', ('supply', 'main', 'instead'), False, "this is the text '12 V adaptor'",
     'a list in [ ] is needed, such as instead = ["usb C 3 A", "12 V adaptor 1 A"] (what it may be instead, in order of liking: a plan takes the first that passes)'),
    (('rated = "1 A"', 'tolerance = 5'), 'no-unit', ('supply', 'main', 'tolerance'), False, 'the number 5 has no unit',
     'write "5 %"'),
    (('rated = "1 A"', 'tolerance = 0.05'), 'no-unit', ('supply', 'main', 'tolerance'), False, 'the number 0.05 has no unit',
     'write "5 %", or "0.05 %" where that is meant'),
    (('rated = "1 A"', 'socket = 5.5'), 'wrong-type', ('supply', 'main', 'socket'), False, 'this is a number',
     'a text in quotes is needed, such as socket = "5.5/2.1 mm, centre positive" (the socket of the model that it plugs into, and the pole at its centre)'),
    ('[limit]\n"bench.lights" = 1', 'wrong-type', ('limit',), False, 'this is a table',
     'write [[limit]], in double brackets: there may be several'),
    # what contradicts itself, or lacks something
    ('[supply.five]\nkind = "converter"\nplace = "base"\nvolts = "5 V"', 'missing', ('supply', 'five'), True, "converter 'five' needs `from`",
     'the supply it is fed by'),
    ('[supply.five]\nkind = "converter"\nfrom = "five"\nplace = "base"\nvolts = "5 V"', 'invalid', ('supply', 'five', 'from'), False, 'converters feed each other in a circle: five from five',
     'one of them needs a supply of another kind'),
    ('[supply.five]\nkind = "converter"\nfrom = "nine"\nplace = "base"\nvolts = "5 V"\n[supply.nine]\nkind = "converter"\nfrom = "five"\nplace = "base"\nvolts = "5 V"', 'invalid', ('supply', 'five', 'from'), False, 'converters feed each other in a circle: five from nine from five',
     'one of them needs a supply of another kind'),
    ('[supply.u]\nkind = "usb"\nport = "power-bank"\nplace = "base"\nvolts = "9 V"', 'invalid', ('supply', 'u', 'volts'), False, "a power bank's USB port gives 5 V, not 9 V",
     'write volts = "5 V", or kind = "adaptor" where 9 V comes from one; a board that asks a type C port for 9 V is port = "type-c"'),
    ('[supply.u]\nkind = "usb"\nplace = "base"\nvolts = "3.3 V"', 'invalid', ('supply', 'u', 'volts'), False, 'a plain USB port gives 5 V, not 3.3 V',
     'write volts = "5 V", or kind = "adaptor" where 3.3 V comes from one; a board that asks a type C port for 3.3 V is port = "type-c"'),
    ('[supply.u]\nkind = "usb"\nplace = "base"\ninstead = ["12 V adaptor 1 A", "usb 9 V 1 A"]', 'invalid', ('supply', 'u', 'instead', 1, 'volts'), False, 'a plain USB port gives 5 V, not 9 V',
     'write volts = "5 V", or kind = "adaptor" where 9 V comes from one; a board that asks a type C port for 9 V is port = "type-c"'),
    (('rated = "1 A"', 'fuse = { rated = "500 mA", kind = "resettable", trips_at = "2 A" }'), 'missing', ('supply', 'main', 'fuse'), True, "trips_at goes with trips_in, from its maker's table",
     'such as trips_in = "4 s"'),
    (('rated = "1 A"', 'fuse = { rated = "500 mA", kind = "resettable", trips_in = "2 s" }'), 'missing', ('supply', 'main', 'fuse'), True, "trips_in goes with trips_at, from its maker's table",
     'such as trips_at = "2.5 A"'),
    (('rated = "1 A"', 'fuse = { rated = "500 mA", kind = "slow", trips_in = "2 s", trips_at = "2 A" }'), 'invalid', ('supply', 'main', 'fuse', 'trips_at'), True, 'a slow fuse melts and trips no more than once',
     'write kind = "resettable", or leave trips_at and trips_in out'),
    ('[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\n[board.b]\nsupply = "main"\nplace = "base"\n[circuit.c]\nboard = "b"\nsupply = "five"', 'invalid', ('circuit', 'c', 'supply'), False, "board 'b' is fed by 'main', not by 'five'",
     None),
    ('[board.b]\nsupply = "main"\nplace = "base"\nchannels = 3\n[circuit.c]\nboard = "b"\nchannel = 1\n[circuit.d]\nboard = "b"\nchannel = 4', 'out-of-range', ('circuit', 'd', 'channel'), False, "board 'b' has 3 channels, not 4",
     'write channel = 2, which is free, or channels = 4 in [board.b] where it has so many'),
    ('[board.b]\nsupply = "main"\nplace = "base"\nchannels = 1\n[circuit.c]\nboard = "b"\nchannel = 1\n[circuit.d]\nboard = "b"\nchannel = 4', 'out-of-range', ('circuit', 'd', 'channel'), False, "board 'b' has 1 channel, not 4",
     'write channels = 4 in [board.b] where it has so many'),
    ('[board.b]\nsupply = "main"\nplace = "base"\nchannels = 2\n[circuit.c]\nboard = "b"\nchannel = 2\n[circuit.d]\nboard = "b"\nchannel = 2', 'duplicate-name', ('circuit', 'd', 'channel'), False, "channel 2 of board 'b' already drives circuit 'c'",
     None),
    (('[[lamp]]', 'behaviour = "fade"\nrate = "6 /min"\non_share = "50 %"\n[[lamp]]'), 'invalid', ('circuit', 'a', 'on_share'), True, "circuit 'a' fades, and is never off for a share of the time",
     'say how far down it goes: least_share = "10 %"'),
    (('[[lamp]]', 'on_share = "50 %"\n[[lamp]]'), 'invalid', ('circuit', 'a', 'on_share'), True, "circuit 'a' is steady, and counts as on all the time",
     'write behaviour = "flash" with its rate, or behaviour = "dim"; or take on_share out'),
    (('[[lamp]]', 'least_share = "50 %"\n[[lamp]]'), 'invalid', ('circuit', 'a', 'least_share'), True, "circuit 'a' does not fade, and has no least share",
     'write behaviour = "fade"'),
    (('[circuit.a]', '[circuit.a-return]\nsupply = "main"\n[circuit.a]\nown_return = true'), 'duplicate-name', ('circuit', 'a-return'), True, "'a-return' is already the line of circuit 'a''s own return",
     'give the circuit another name'),
    ('[circuit."b-"]\nsupply = "main"', 'invalid', ('circuit', 'b-'), True, "the name 'b-' ends like the pole of a supply",
     'give the circuit another name'),
    ('series = 2\nplaces = ["base"]', 'out-of-range', ('lamp', 0, 'places'), False, '2 lamps in series need 2 places, not 1',
     None),
    ('series = 3\nlinks = ["90 mm"]', 'out-of-range', ('lamp', 0, 'links'), False, '3 lamps in series have 2 links, not 1',
     None),
    ('resistor = { ohms = "470 ohm", set = "100 ohm" }', 'invalid', ('lamp', 0, 'resistor', 'set'), False, 'a resistor of 470 ohm cannot be set',
     'write it like "trimmer 470 ohm set 100 ohm"'),
    ('resistor = "trimmer 470 ohm set to 500"', 'out-of-range', ('lamp', 0, 'resistor', 'set'), False, 'a trimmer of 470 ohm cannot be set to 500 ohm',
     'its whole track is the most'),
    ('resistor = "1k + trimmer 470 ohm set to 500"', 'out-of-range', ('lamp', 0, 'resistor', 'plus', 0, 'set'), False, 'a trimmer of 470 ohm cannot be set to 500 ohm',
     'its whole track is the most'),
    (('kind = "smd-0603-red"\nplace = "base"', 'kind = "smd-0603-rgb"\nplace = "base"\ndice = { red = { circuit = "a", resistor = "1k" } }'), 'invalid', ('lamp', 0, 'circuit'), True, 'a lamp with `dice` has a circuit for each colour, and none for all',
     'leave it out and write dice = { red = { circuit = "red", resistor = "470 ohm" }, green = { circuit = "green", resistor = "330 ohm" } }'),
    (('circuit = "a"\nkind = "smd-0603-red"\nplace = "base"', 'kind = "smd-0603-rgb"\nplace = "base"\ndice = {}'), 'out-of-range', ('lamp', 0, 'dice'), False, 'no colour is given',
     'write dice = { red = { circuit = "red", resistor = "470 ohm" }, green = { circuit = "green", resistor = "330 ohm" } }'),
    (('circuit = "a"\nkind = "smd-0603-red"\nplace = "base"', 'kind = "smd-0603-rgb"\nplace = "base"\ndice = { red = { circuit = "a", resistor = "1k" }, blue = { circuit = "n", resistor = "1k" } }\n[circuit.n]\nsupply = "main"\nswitched = "negative"'), 'invalid', ('lamp', 0, 'dice', 'blue', 'circuit'), False, "blue on 'n' is switched in the negative and red on 'a' in the positive, but the colours share one leg",
     'switch all colours of a lamp on the same side'),
    ('[[strip]]\ncircuit = "a"\nkind = "strip-12v-white-60"\nplace = "hull"', 'missing', ('strip', 0), True, "strip 'a strip at hull' needs `length` or `segments`",
     None),
    ('[strip_kind.own]\nvolts = "12 V"\nsegment = "1 mm"\nseries = 3\nohms = "150 ohm"\nkind = "smd-0603-red"\n[[strip]]\ncircuit = "a"\nkind = "own"\nplace = "hull"\nlength = "50 m"', 'out-of-range', ('strip', 0, 'length'), False, '50000 mm are more than 1000 segments of 1 mm',
     'is the length of a segment right?'),
    ('[[load]]\nname = "w"\ncircuit = "a"\nplace = "hull"\ntypical = "1 A"\ncase = "10 cm2"', 'invalid', ('load', 0, 'case'), False, "`case` is for a motor; 'w' is none",
     'such as kind = "motor"'),
    ('[[load]]\nname = "w"\ncircuit = "a"\nplace = "hull"\ntypical = "1 A"\nheld_off = true', 'invalid', ('load', 0, 'held_off'), False, "`held_off` is for a motor; 'w' is none",
     'such as kind = "motor"'),
    ('[[load]]\nname = "w"\nkind = "motor"\ncircuit = "a"\nplace = "hull"\ntypical = "1 A"\ndiode = "1N4009"', 'missing', ('load', 0, 'diode'), True, "no diode '1N4009' is known",
     'write diode = "1N5400", or its current, as in diode = "1 A"'),
    ('[[load]]\nname = "w"\nkind = "motor"\ncircuit = "a"\nplace = "hull"\ntypical = "1 A"\ndiode = "zener"', 'missing', ('load', 0, 'diode'), True, "no diode 'zener' is known",
     'write its current, as in diode = "1 A"'),
    ('[[load]]\nname = "w"\nkind = "motor"\ncircuit = "a"\nplace = "hull"\ntypical = "1 A"\ndiode = { volts = "50 V" }', 'missing', ('load', 0, 'diode'), True, "the diode of 'w' needs its type or current",
     'write its current, as in diode = "1 A"'),
    ('[[run]]\nname = "x"\nline = "a"\nends = ["base","base"]\nlength = "1 m"', 'invalid', ('run', 0, 'ends'), False, "run 'x' begins and ends at 'base'",
     None),
    ('[[run]]\nname = "x"\nends = ["base","hull"]\nlength = "1 m"', 'missing', ('run', 0), True, "run 'x' needs `line`",
     'or `spare = true`'),
    ('[cable.trunk]', 'missing', ('cable', 'trunk'), True, "cable 'trunk' needs `outside` or `flat`",
     'add outside = "3 mm", or flat = "6.4 x 0.9 mm" of a flat one'),
    ('[cable.trunk]\noutside = "3 mm"\nflat = "6 x 1 mm"', 'invalid', ('cable', 'trunk', 'flat'), True, "cable 'trunk' has `outside` and `flat`",
     'leave one of the two out'),
    ('[cable.trunk]\nflat = "6 mm"', 'invalid', ('cable', 'trunk', 'flat'), False, "cable 'trunk' is flat",
     'write its width first: "6.4 x 0.9 mm"'),
    ('[cable.trunk]\nflat = "1 x 6 mm"', 'invalid', ('cable', 'trunk', 'flat'), False, "cable 'trunk' is flat",
     'write its width first: "6.4 x 0.9 mm"'),
    ('[wire.fat]\nstrand = "0.5 mm"\noutside = "2 mm"\n[[run]]\nname = "x"\nline = "a"\nends = ["base","hull"]\nlength = "1 m"\nwire = "fat"\ncable = "trunk"\n[cable.trunk]\noutside = "1.9 mm"', 'invalid', ('cable', 'trunk', 'outside'), False, "cable 'trunk' is 1.9 mm outside, and its conductor needs at least 2 mm",
     'measure the cable, or name the wire that is in it'),
    ('[wire.fat]\nstrand = "0.5 mm"\noutside = "2 mm"\n[[run]]\nname = "x"\nline = "a"\nends = ["base","hull"]\nlength = "1 m"\nwire = "fat"\ncable = "trunk"\n[[run]]\nname = "y"\nline = "main-"\nends = ["base","hull"]\nlength = "1 m"\nwire = "fat"\ncable = "trunk"\n[cable.trunk]\noutside = "3.9 mm"', 'invalid', ('cable', 'trunk', 'outside'), False, "cable 'trunk' is 3.9 mm outside, and its 2 conductors need at least 4 mm",
     'measure the cable, or name the wire that is in it'),
    ('[wire.fat]\nstrand = "0.5 mm"\noutside = "2 mm"\n[[run]]\nname = "x"\nline = "a"\nends = ["base","hull"]\nlength = "1 m"\nwire = "fat"\ncable = "trunk"\n[cable.trunk]\nflat = "6 x 1.6 mm"', 'invalid', ('cable', 'trunk', 'flat'), False, "cable 'trunk' is 1.6 mm thick, and its conductors side by side need at least 1.68 mm",
     'measure the cable, or name the wire that is in it'),
    ('[wire.fat]\nstrand = "0.5 mm"\noutside = "2 mm"\n[[run]]\nname = "x"\nline = "a"\nends = ["base","hull"]\nlength = "1 m"\nwire = "fat"\ncable = "trunk"\n[[run]]\nname = "y"\nline = "main-"\nends = ["base","hull"]\nlength = "1 m"\nwire = "fat"\ncable = "trunk"\n[cable.trunk]\nflat = "3.3 x 1.7 mm"', 'invalid', ('cable', 'trunk', 'flat'), False, "cable 'trunk' is 3.3 mm wide, and its conductors side by side need at least 3.36 mm",
     'measure the cable, or name the wire that is in it'),
    ('[[plug]]\nname = "p"\npins = ["a"]', 'missing', ('plug', 0), True, "plug 'p' needs `at`",
     'the place where it sits, such as at = "hub"'),
    ('[[plug]]\nname = "p"\npins = ["a"]\nat = "hull"\nends = ["base","hull"]', 'invalid', ('plug', 0, 'ends'), True, "plug 'p' has `at` and `ends`",
     'leave `ends` out: the runs go to the plug, and what is at the place is behind it'),
    ('[lamp_kind.own]\nkind = "filament"\nrated = "20 mA"', 'missing', ('lamp_kind', 'own'), True, "filament lamp 'own' needs `volts`",
     None),
    ('[lamp_kind.own]\nkind = "filament"\nvolts = "6 V"', 'missing', ('lamp_kind', 'own'), True, "filament lamp 'own' needs `rated`",
     'such as rated = "20 mA"'),
    ('[lamp_kind.own]\nforward = "2 V"\nat = "20 mA"', 'missing', ('lamp_kind', 'own'), True, "LED 'own' needs `rated`",
     'such as rated = "20 mA"'),
    ('[lamp_kind.own]\nrated = "20 mA"', 'missing', ('lamp_kind', 'own'), True, "LED 'own' needs `forward`",
     'such as forward = "2.9/3.2/3.6 V"'),
    ('[lamp_kind.own]\nvolts = "12 V"', 'missing', ('lamp_kind', 'own'), True, "LED 'own' with its resistor inside needs `at`",
     'what it takes on its volts, such as at = "15 mA"'),
    ('[lamp_kind.own]\nvolts = "2 V"\nat = "15 mA"\nforward = "2 V"', 'invalid', ('lamp_kind', 'own', 'volts'), False, "LED 'own' is for 2 V, and its die alone takes 2 V: nothing is left for a resistor inside",
     'leave `volts` out, or say the `forward` voltage of its die'),
    ('[lamp_kind.own]\nforward = "2 V"\nat = "20 mA"\nlow_forward = "2.1 V"\nlow_at = "5 mA"\nrated = "20 mA"', 'wrong-order', ('lamp_kind', 'own', 'low_forward'), False, 'the second point of the curve must lie below the first, in volts and in amps',
     None),
    ('[lamp_kind.own]\nforward = "2 V"\nat = "20 mA"\nlow_forward = "1.99 V"\nlow_at = "5 mA"\nrated = "20 mA"', 'invalid', ('lamp_kind', 'own', 'low_forward'), False, 'no LED has a curve through 1.99 V at 5 mA and 2 V at 20 mA',
     'read two points off its data sheet: the rated current, and about a quarter of it'),
    ('[lamp_kind.own]\nforward = "0.02 V"\nat = "20 mA"\nrated = "20 mA"', 'invalid', ('lamp_kind', 'own', 'forward'), False, 'no LED has a curve through 0 V at 5 mA and 20 mV at 20 mA',
     'read two points off its data sheet: the rated current, and about a quarter of it'),
]  # fmt: skip


def problems(text: str) -> tuple[Problem, ...]:
    """Without their lines and columns."""
    with pytest.raises(BuildError) as caught:
        postcheck.loads(text)
    return tuple(Problem(one.check, one.path, one.says, one.hint, one.on) for one in caught.value.problems)


@pytest.mark.parametrize(("said", "check", "path", "on_key", "says", "hint"), SLIPS)
def test_a_slip(
    said: str | tuple[str, str],
    check: str,
    path: tuple[str | int, ...],
    on_key: bool,
    says: str,
    hint: str | None,
) -> None:
    text = f"{BASE}{said}\n" if isinstance(said, str) else BASE.replace(*said)
    (only,) = problems(HEAD + text)
    assert only == Problem(f"file.{check}", path, says, hint, "key" if on_key else "value")


def test_a_file_without_what_every_file_has() -> None:
    assert problems("format = 1\n") == (
        Problem(
            "file.missing",
            ("build",),
            "the file has no 'build'",
            'add [build] and below it name = "Mail airship, 1:144"',
        ),
    )
    assert problems('[build]\nname = "x"\n') == (
        Problem("file.missing", ("format",), "the file has no 'format'", "add format = 1 at the top"),
    )
    assert problems('format = 2\n[build]\nname = "x"\n') == (
        Problem("file.choice", ("format",), "'format' cannot be 2", "write 1"),
    )
    for number, short in ((10**15, True), (-(10**15), True), (10**15 - 1, False)):
        (one,) = problems(f'format = {number}\n[build]\nname = "x"\n')
        assert (one.says == "'format' cannot be a number of that size", one.hint) == (short, "write 1")
    assert problems('format = 1\nstage = "wiring"\n[build]\nname = "x"\n') == (
        Problem(
            "file.unknown-key", ("stage",), "the file knows no key 'stage'",
            "it goes below the header of its table, such as [build]", "key",
        ),
    )  # fmt: skip


def test_a_list_of_numbers_without_units_is_not_empty() -> None:
    found = problems(f"{HEAD}{BASE}count = 2\nleads = [90, 80]\n")
    assert [(one.path, one.check) for one in found] == [
        (("lamp", 0, "leads", at), "file.no-unit") for at in (0, 1)
    ]


def test_a_name_with_a_dot_in_it() -> None:
    """Read as a table in a table, which lacks what a place has."""
    missing, unknown = problems(f'{HEAD}{BASE}[place.top.deck]\naccess = "open"\n')
    assert (missing.check, missing.says) == ("file.missing", "place 'top' has no 'access'")
    assert (unknown.says, unknown.hint) == (
        "place 'top' knows no key 'deck'",
        'a name with a dot stands in quotes: write [place."top.deck"]',
    )


@pytest.mark.parametrize("count", [50, 51, 60])
def test_the_first_fifty_are_guessed_at(count: int) -> None:
    wrong = '[[lamp]]\nplace = "base"\nkind = "smd-0603-red"\nseris = 2\n' * count
    hints = [problem.hint for problem in problems(HEAD + BASE + wrong)]
    assert hints[:50] == ["did you mean 'series'?"] * 50
    assert all((hint or "").startswith("the keys here are") for hint in hints[50:])
    assert len(hints) == count


@pytest.mark.parametrize(
    ("value", "hint"),
    [
        (
            "[{ a = 2 }, { a = 3 }]",
            "did you mean 'lamp'? Write [[lamp]], in double brackets, for each of them",
        ),
        ("{ a = 2 }", "did you mean 'lamp'? Write [[lamp]], in double brackets, for each of them"),
        ("[1, { a = 2 }]", "did you mean 'lamp'?"),
        ("3", "did you mean 'lamp'?"),
    ],
)
def test_a_header_is_shown_for_tables_alone(value: str, hint: str) -> None:
    (only,) = problems(f'format = 1\nlamps = {value}\n[build]\nname = "Tender"\n')
    assert (only.path, only.hint) == (("lamps",), hint)
