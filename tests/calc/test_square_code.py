"""Square codes: read back by another library; too long a link is said so."""

import re

import numpy
import pytest
import zxingcpp

from calc.render import square_code


def modules(picture: str) -> numpy.ndarray:
    """The drawing as dark and light squares, six dots each."""
    side = int(re.search(r'viewBox="0 0 (\d+)', picture)[1])
    found = numpy.full((side, side), 255, dtype=numpy.uint8)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", picture):
        found[int(y), int(x)] = 0
    return numpy.kron(found, numpy.ones((6, 6), dtype=numpy.uint8))


@pytest.mark.parametrize("link", ["https://club.example/#plan=1&a=1&end=0", "https://club.example/" + "x" * 1500,
                                  "https://club.example/#plan=1&x=3+5%2F8+in"])
def test_another_reader_reads_the_link(link):
    picture, note = square_code.picture(link)
    assert note == "" and [one.text for one in zxingcpp.read_barcodes(modules(picture))] == [link]


def test_a_link_too_long_is_told_with_its_length():
    picture, note = square_code.picture("https://club.example/" + "x" * 5000)
    assert picture == "" and "5,021 characters" in note
