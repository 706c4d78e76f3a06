"""What a word of the command line stands for. argparse takes each as it is, unless it is empty, as its `type`; shells complete by it."""

from __future__ import annotations

import argparse


class Kind:
    """A kind of word, called by argparse with the word itself. `empty`: it may say nothing."""

    def __init__(self, name: str, *, empty: bool = False) -> None:
        self.name: str = name
        self.empty: bool = empty

    def __call__(self, word: str) -> str:
        """The word as it is."""
        if not (word or self.empty):  # of a variable of the shell that was never set
            raise argparse.ArgumentTypeError("an empty word names nothing")
        return word


def number(word: str) -> float:
    """A plain number."""
    try:
        return float(word)
    except ValueError:
        raise argparse.ArgumentTypeError("this needs a number, such as 8") from None


BUILD: Kind = Kind("a build file, or a folder of them")
FILE: Kind = Kind("any file, which need not be there yet", empty=True)  # each command has its words for none
CHECK: Kind = Kind("the name of a check")
WIRE: Kind = Kind("a wire of the catalogue")
LAMP: Kind = Kind("a lamp of the catalogue")
CELL: Kind = Kind("a cell of the catalogue")
ROW: Kind = Kind("any name of the catalogue")
TOPIC: Kind = Kind("a topic of the guide")
