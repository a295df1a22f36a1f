"""What all truth drawings are made with: the list of cases, walls, outlines, texts, expectations."""
import math

import ezdxf

CASES = {}


def case(version='R2010', units=4, name=None, **settings):
    def wrap(function):
        CASES[name or function.__name__] = (function, version, units, settings)
        return function
    return wrap


# What is not found rightly yet: kept beside the rest, and looked at by the test as well.
KNOWN_GAPS = set()


def gap(function):
    KNOWN_GAPS.add(function.__name__)
    return function


def new(version, units):
    doc = ezdxf.new(version)
    doc.header['$INSUNITS'] = units
    return doc, doc.modelspace()


def layer(doc, *names):
    for name in names:
        if name not in doc.layers:
            doc.layers.add(name)


def line(m, a, b, on):
    m.add_line(a, b, dxfattribs={'layer': on})


def wall(m, a, b, thickness, on='A-WALL', caps=True):
    """Two faces left and right of the axis from a to b, and the two ends."""
    ax, ay = a
    bx, by = b
    length = math.hypot(bx - ax, by - ay)
    nx, ny = -(by - ay) / length * thickness / 2, (bx - ax) / length * thickness / 2
    line(m, (ax + nx, ay + ny), (bx + nx, by + ny), on)
    line(m, (ax - nx, ay - ny), (bx - nx, by - ny), on)
    if caps:
        line(m, (ax + nx, ay + ny), (ax - nx, ay - ny), on)
        line(m, (bx + nx, by + ny), (bx - nx, by - ny), on)


def outline(m, points, on='A-WALL', **attribs):
    return m.add_lwpolyline(points, close=True, dxfattribs={'layer': on, **attribs})


def text(m, s, at, on='E-TEXT', height=100, **attribs):
    t = m.add_text(s, height=height, dxfattribs={'layer': on, **attribs})
    t.set_pos(at)
    return t


def pen(x, y, thickness, size=None, refs=None, count=1, z=0.0, hosts=None, shape=None, kind=None,
        grid=None, rooms=None):
    """One expected penetration; `hosts` the leaves' thicknesses where there are several; `grid` as the
    register writes it, `rooms` before and behind the wall; what is None is not looked at."""
    return {'at': [x, y, z], 'thickness': thickness, 'hosts': hosts or [thickness], 'size': size,
            'refs': refs or [], 'count': count, 'shape': shape, 'kind': kind, 'grid': grid, 'rooms': rooms}
