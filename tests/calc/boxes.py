"""What the tests of drawings measure: boxes of lettering and of shapes, from the SVG text alone."""

import re

from calc.render import svg

SVG = "{http://www.w3.org/2000/svg}"
NUMBERS = {"M": 2, "L": 2, "H": 1, "V": 1, "Q": 4, "A": 7, "C": 6, "Z": 0}


def path_points(words):
    """The corners and the control points of a path; an arc gives its end."""
    found, x, y, start = [], 0.0, 0.0, (0.0, 0.0)
    for letter, text in re.findall(r"([A-Za-z])([^A-Za-z]*)", words):
        numbers = [float(one) for one in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", text)]
        wanted = NUMBERS[letter.upper()]
        if not wanted:
            x, y = start
            continue
        assert numbers and len(numbers) % wanted == 0, (letter, text)
        for first in range(0, len(numbers), wanted):
            part = numbers[first:first + wanted]
            base = (x, y) if letter.islower() else (0.0, 0.0)
            if letter.upper() == "H":
                x = base[0] + part[0]
            elif letter.upper() == "V":
                y = base[1] + part[0]
            else:
                if letter.upper() in "QC":
                    found += [(base[0] + a, base[1] + b) for a, b in zip(part[::2], part[1::2], strict=True)]
                x, y = base[0] + part[-2], base[1] + part[-1]
            if letter.upper() == "M" and first == 0:
                start = (x, y)
            found.append((x, y))
    return found


def points_of(element):
    """Corners of the box of one element, as far as geometry alone tells."""
    def get(name):
        return float(element.get(name, 0))
    tag = element.tag.removeprefix(SVG)
    if tag == "rect":
        return [(get("x"), get("y")), (get("x") + get("width"), get("y") + get("height"))]
    if tag == "circle":
        return [(get("cx") - get("r"), get("cy") - get("r")), (get("cx") + get("r"), get("cy") + get("r"))]
    if tag in ("polyline", "polygon"):
        return [tuple(map(float, pair.split(","))) for pair in element.get("points").split()]
    return path_points(element.get("d")) if tag == "path" else []


def letters_box(element):
    """Estimated box of a text: (left, top, right, low)."""
    size = float(element.get("font-size", svg.TEXT_SIZE))
    wide = svg.text_width(element.text, size)
    x, y = float(element.get("x")), float(element.get("y"))
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[element.get("text-anchor", "start")]
    return left, y - size * 0.78, left + wide, y + size * 0.2


def texts(root):
    """All lettering of a drawing."""
    return list(root.iter(SVG + "text"))


def faults_of(root):
    """What is wrong with the lettering and the edges of a drawing, in words: nothing where all is well."""
    _, _, wide, high = map(float, root.get("viewBox").split())
    found = []
    boxes = []
    for element in texts(root):
        left, top, right, low = box = letters_box(element)
        if left < -0.5 or top < -0.5 or right > wide + 0.5 or low > high + 0.5:
            found.append(f"cut: {element.text}")
        # A wide drawing of 560 is shown from 520 px on, a narrow one of 320 from 300: 14 is never under 13 there.
        if float(element.get("font-size", svg.TEXT_SIZE)) < 14.0:
            found.append(f"small: {element.text}")
        boxes.append((box, element.text))
    boxes.sort()
    for number, (a, first) in enumerate(boxes):
        for b, second in boxes[number + 1:]:
            if b[0] >= a[2] - 0.2:
                break
            if a[1] < b[3] - 0.8 and b[1] < a[3] - 0.8:
                found.append(f"overlap: {first} / {second}")
    for element in root.iter():
        for x, y in points_of(element):
            if not (-0.5 <= x <= wide + 0.5 and -0.5 <= y <= high + 0.5):
                found.append(f"outside: {element.tag.removeprefix(SVG)} {element.get('class')} {x:.0f}, {y:.0f}")
                break
    return found

