"""Truth drawings for the drawing reader and finder, written by ezdxf.

Usage: python3 truth_drawings.py OUT_DIR
Writes NAME.dxf for each case and truth.json: for each case the settings of the file and the
penetrations that a person reading the drawing would list. Positions are millimetres in the world
frame (plans: x, y, z of the level; sections: x and height). All dimensions are invented; layer names
follow the US National CAD Standard, BS 1192, ISO 13567 and common practice in several languages.
"""
import json
import math
import os
import sys

sys.dont_write_bytecode = True

from ezdxf.enums import MTextEntityAlignment  # noqa: F401  (present in 0.18)
from ezdxf.math import Vec3

from truth_tools import CASES, KNOWN_GAPS, case, layer, line, new, outline, pen, text, wall
import truth_walls  # noqa: F401  (adds its cases)
import truth_services  # noqa: F401
import truth_views  # noqa: F401
import truth_places  # noqa: F401

# --- walls -------------------------------------------------------------------------------------

def basic(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (8000, 100), 200)
    wall(m, (8075, 200), (8075, 5000), 150)
    line(m, (1000, -1500), (1000, 1500), 'E-CNDT')
    text(m, 'D-01 150 DIA', (1050, 700))
    line(m, (3000, -1500), (3000, 1500), 'E-CNDT')
    text(m, '%%c110 D-02', (3050, 700))
    line(m, (5000, 2500), (9500, 2500), 'E-CNDT')
    text(m, 'D-03 50mm dia', (6000, 2550))
    # clear of everything
    line(m, (1500, 1000), (4500, 1000), 'E-CNDT')
    return [pen(1000, 100, 200, [150], ['D-01']), pen(3000, 100, 200, [110], ['D-02']),
            pen(8075, 2500, 150, [50], ['D-03'])]


for _version in ('R12', 'R2000', 'R2004', 'R2007', 'R2010', 'R2013', 'R2018'):
    case(_version, name=f'basic-{_version}')(basic)


@case(units=6)
def metres(doc, m):
    layer(doc, 'A-WALL', 'P-PIPE', 'P-TEXT')
    wall(m, (0, 0.15), (6, 0.15), 0.3)
    line(m, (2, -1), (2, 1.2), 'P-PIPE')
    text(m, 'P-7 110 dia', (2.05, 0.6), 'P-TEXT', 0.1)
    m.add_arc((5, 2), 0.9, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    return [pen(2000, 150, 300, [110], ['P-7'])]


@case(units=1)
def inches(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 4), (240, 4), 8)
    line(m, (100, -50), (100, 60), 'E-CNDT')
    text(m, 'C-12 4" dia', (102, 30), height=4)
    return [pen(2540, 101.6, 203.2, [101.6], ['C-12'])]


@case(units=0)
def unitless_metres(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT', 'A-DOOR')
    wall(m, (0, 0.1), (12, 0.1), 0.2)
    wall(m, (0.1, 0.2), (0.1, 8), 0.2)
    m.add_arc((5, 2), 0.85, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    line(m, (3, -1), (3, 1), 'E-CNDT')
    text(m, 'D-1 150 dia', (3.05, 0.5), height=0.15)
    return [pen(3000, 100, 200, [150], ['D-1'])]


@case()
def closed_outlines(doc, m):
    layer(doc, 'A-WALL-FULL', 'E-CABL', 'E-TEXT')
    # an L of one closed outline, 250 thick
    outline(m, [(0, 0), (5000, 0), (5000, 250), (250, 250), (250, 4000), (0, 4000)], 'A-WALL-FULL')
    line(m, (2500, -900), (2500, 900), 'E-CABL')
    text(m, 'C-101 37 dia', (2550, 500))
    line(m, (-900, 3000), (900, 3000), 'E-CABL')
    text(m, 'C-102 25 dia', (300, 3040))
    return [pen(2500, 125, 250, [37], ['C-101']), pen(125, 3000, 250, [25], ['C-102'])]


@case('R2013')
def building_inside_and_outside(doc, m):
    """Outer and inner face as two closed outlines; the room between is no wall."""
    layer(doc, 'S-WALL', 'E-CNDT', 'E-TEXT')
    outline(m, [(0, 0), (6000, 0), (6000, 4000), (0, 4000)], 'S-WALL')
    outline(m, [(300, 300), (5700, 300), (5700, 3700), (300, 3700)], 'S-WALL')
    line(m, (2000, -1000), (2000, 5000), 'E-CNDT')
    text(m, 'D-5 100 dia', (2050, 1800))
    return [pen(2000, 150, 300, [100], ['D-5']), pen(2000, 3850, 300, [100], ['D-5'])]


@case()
def hatch_walls(doc, m):
    layer(doc, 'A-WALL-PATT', 'E-CNDT', 'E-TEXT')
    h = m.add_hatch(dxfattribs={'layer': 'A-WALL-PATT'})
    h.paths.add_polyline_path([(0, 0), (4000, 0), (4000, 200), (0, 200)], is_closed=True)
    h = m.add_hatch(dxfattribs={'layer': 'A-WALL-PATT'})
    h.set_pattern_fill('ANSI31', scale=20)
    edge = h.paths.add_edge_path()
    edge.add_line((5000, 0), (9000, 0))
    edge.add_line((9000, 0), (9000, 240))
    edge.add_line((9000, 240), (5000, 240))
    edge.add_line((5000, 240), (5000, 0))
    # a ring: outer and inner boundary in one hatch, walls 300
    h = m.add_hatch(dxfattribs={'layer': 'A-WALL-PATT'})
    h.paths.add_polyline_path([(0, 3000), (5000, 3000), (5000, 7000), (0, 7000)], is_closed=True, flags=1)
    h.paths.add_polyline_path([(300, 3300), (4700, 3300), (4700, 6700), (300, 6700)], is_closed=True, flags=16)
    line(m, (1000, -700), (1000, 900), 'E-CNDT')
    text(m, 'H-1 75 dia', (1050, 500))
    line(m, (7000, -700), (7000, 900), 'E-CNDT')
    text(m, 'H-2 75 dia', (7050, 500))
    line(m, (4000, 5000), (6000, 5000), 'E-CNDT')
    text(m, 'H-3 75 dia', (5100, 5050))
    return [pen(1000, 100, 200, [75], ['H-1']), pen(7000, 120, 240, [75], ['H-2']),
            pen(4850, 5000, 300, [75], ['H-3'])]


@case('R2010')
def multilines(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    style = doc.mline_styles.new('WALL240')
    style.elements.append(0.5, 256)
    style.elements.append(-0.5, 256)
    m.add_mline([(0, 0), (5000, 0), (5000, 4000)], dxfattribs={
        'layer': 'A-WALL', 'style_name': 'WALL240', 'scale_factor': 240, 'justification': 1})
    line(m, (2000, -900), (2000, 900), 'E-CNDT')
    text(m, 'M-1 63 dia', (2050, 500))
    line(m, (4000, 2000), (6000, 2000), 'E-CNDT')
    text(m, 'M-2 63 dia', (5200, 2050))
    return [pen(2000, 0, 240, [63], ['M-1']), pen(5000, 2000, 240, [63], ['M-2'])]


@case()
def curved_walls(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    for r in (3000, 3250):
        m.add_arc((0, 0), r, 10, 170, dxfattribs={'layer': 'A-WALL'})
    # radially at 90 degrees, and at 45
    line(m, (0, 2000), (0, 4200), 'E-CNDT')
    text(m, 'A-1 90 dia', (60, 3500))
    c = math.cos(math.pi / 4)
    line(m, (2200 * c, 2200 * c), (4200 * c, 4200 * c), 'E-CNDT')
    text(m, 'A-2 90 dia', (3600 * c + 60, 3600 * c - 60))
    # the same by bulges in a closed outline, wall 200
    k = math.tan(math.radians(90) / 4)
    m.add_lwpolyline([(12000, 0, 0, 0, k), (10000, 2000, 0, 0, 0), (10000, 1800, 0, 0, -k),
                      (11800, 0, 0, 0, 0)], close=True, dxfattribs={'layer': 'A-WALL'})
    line(m, (10000 + 1500 * c, 1500 * c), (10000 + 2600 * c, 2600 * c), 'E-CNDT')
    text(m, 'A-3 90 dia', (10000 + 2400 * c, 2200 * c))
    return [pen(0, 3125, 250, [90], ['A-1']), pen(3125 * c, 3125 * c, 250, [90], ['A-2']),
            pen(10000 + 1900 * c, 1900 * c, 200, [90], ['A-3'])]


@case('R2000')
def solids_and_wide_lines(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    m.add_solid([(0, 0), (4000, 0), (0, 200), (4000, 200)], dxfattribs={'layer': 'A-WALL'})
    m.add_trace([(5000, 0), (9000, 0), (5000, 300), (9000, 300)], dxfattribs={'layer': 'A-WALL'})
    p = m.add_lwpolyline([(0, 3000), (6000, 3000)], dxfattribs={'layer': 'A-WALL', 'const_width': 240})
    for x, y, name in ((1000, 100, 'S-1'), (7000, 150, 'S-2'), (3000, 3000, 'S-3')):
        line(m, (x, y - 900), (x, y + 900), 'E-CNDT')
        text(m, f'{name} 50 dia', (x + 50, y + 500))
    return [pen(1000, 100, 200, [50], ['S-1']), pen(7000, 150, 300, [50], ['S-2']),
            pen(3000, 3000, 240, [50], ['S-3'])]


@case()
def cavity_wall(doc, m):
    """Two leaves of 100 and a cavity of 50: one hole through both."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    for y in (0, 100, 150, 250):
        line(m, (0, y), (6000, y), 'A-WALL')
    line(m, (2000, -800), (2000, 1000), 'E-CNDT')
    text(m, 'K-1 100 dia', (2050, 600))
    outline(m, [(0, 3000), (5000, 3000), (5000, 3100), (0, 3100)])
    outline(m, [(0, 3180), (5000, 3180), (5000, 3280), (0, 3280)])
    line(m, (3000, 2200), (3000, 4200), 'E-CNDT')
    text(m, 'K-2 100 dia', (3050, 3700))
    return [pen(2000, 125, 250, [100], ['K-1'], hosts=[100, 100]),
            pen(3000, 3140, 280, [100], ['K-2'], hosts=[100, 100])]


@case()
def corridor_and_shaft(doc, m):
    """Two walls with a 500 mm riser between them: two holes, not one thick wall."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    for y in (0, 200, 700, 900):
        line(m, (0, y), (5000, y), 'A-WALL')
    line(m, (2000, -800), (2000, 1800), 'E-CNDT')
    text(m, 'R-1 100 dia', (2050, 1200))
    return [pen(2000, 100, 200, [100], ['R-1']), pen(2000, 800, 200, [100], ['R-1'])]


@case()
def finishes(doc, m):
    """Block wall 200 with 15 mm of plaster on both faces."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    for y in (0, 15, 215, 230):
        line(m, (0, y), (5000, y), 'A-WALL')
    line(m, (2000, -800), (2000, 1000), 'E-CNDT')
    text(m, 'F-1 100 dia', (2050, 600))
    return [pen(2000, 115, 230, [100], ['F-1'])]


@case()
def doors_and_windows(doc, m):
    layer(doc, 'A-WALL', 'A-DOOR', 'A-GLAZ', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (2000, 100), 200)
    wall(m, (2900, 100), (6000, 100), 200)
    wall(m, (6500, 100), (9000, 100), 200)
    m.add_arc((2000, 0), 900, 270, 360, dxfattribs={'layer': 'A-DOOR'})
    line(m, (2000, 0), (2000, -900), 'A-DOOR')
    line(m, (6000, 100), (6500, 100), 'A-GLAZ')
    line(m, (6000, 120), (6500, 120), 'A-GLAZ')
    line(m, (2450, -800), (2450, 900), 'E-CNDT')  # through the door
    line(m, (6250, -800), (6250, 900), 'E-CNDT')  # through the window
    line(m, (4000, -800), (4000, 900), 'E-CNDT')
    text(m, 'D-9 40 dia', (4050, 500))
    return [pen(4000, 100, 200, [40], ['D-9'])]


@case()
def rotated_building(doc, m):
    """Everything turned by 27 degrees, at survey coordinates."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    turn = math.radians(27)
    ox, oy = 452_000_000.0, 5_410_000_000.0

    def p(x, y):
        return (ox + x * math.cos(turn) - y * math.sin(turn), oy + x * math.sin(turn) + y * math.cos(turn))

    wall(m, p(0, 100), p(9000, 100), 200)
    wall(m, p(4000, 200), p(4000, 5000), 160)
    line(m, p(2000, -900), p(2000, 1000), 'E-CNDT')
    text(m, 'T-1 90 dia', p(2050, 600), rotation=27)
    line(m, p(3000, 3000), p(5200, 3000), 'E-CNDT')
    text(m, 'T-2 90 dia', p(4300, 3060), rotation=27)
    return [pen(*p(2000, 100), 200, [90], ['T-1']), pen(*p(4000, 3000), 160, [90], ['T-2'])]


@case()
def wall_junctions(doc, m):
    """A T with cleaned-up lines: the face of the long wall stops at the other wall."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    line(m, (0, 0), (8000, 0), 'A-WALL')
    line(m, (0, 200), (3900, 200), 'A-WALL')
    line(m, (4100, 200), (8000, 200), 'A-WALL')
    line(m, (3900, 200), (3900, 4000), 'A-WALL')
    line(m, (4100, 200), (4100, 4000), 'A-WALL')
    line(m, (3900, 4000), (4100, 4000), 'A-WALL')
    line(m, (0, 0), (0, 200), 'A-WALL')
    line(m, (8000, 0), (8000, 200), 'A-WALL')
    for x, name in ((3700, 'J-1'), (4300, 'J-2')):
        line(m, (x, -700), (x, 1800), 'E-CNDT')
        text(m, f'{name} 32 dia', (x - 60 if x < 4000 else x + 120, 700), rotation=90)
    line(m, (3000, 2500), (5000, 2500), 'E-CNDT')
    text(m, 'J-3 32 dia', (4300, 2550))
    return [pen(3700, 100, 200, [32], ['J-1']), pen(4300, 100, 200, [32], ['J-2']),
            pen(4000, 2500, 200, [32], ['J-3'])]


# --- blocks ------------------------------------------------------------------------------------

@case()
def nested_blocks(doc, m):
    """Walls two blocks deep: scaled from metres, turned by 90 degrees, mirrored."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    inner = doc.blocks.new('WALLSEG', base_point=(0, 0))
    for y in (-0.1, 0.1):
        inner.add_line((0, y), (5, y), dxfattribs={'layer': '0'})
    for x in (0, 5):
        inner.add_line((x, -0.1), (x, 0.1), dxfattribs={'layer': '0'})
    outer = doc.blocks.new('PLAN')
    outer.add_blockref('WALLSEG', (0, 0), dxfattribs={'layer': 'A-WALL'})
    outer.add_blockref('WALLSEG', (5.1, 0.1), dxfattribs={'layer': 'A-WALL', 'rotation': 90})
    m.add_blockref('PLAN', (10000, 2000), dxfattribs={'layer': '0', 'xscale': 1000, 'yscale': 1000, 'zscale': 1000})
    m.add_blockref('PLAN', (0, 2000), dxfattribs={'layer': '0', 'xscale': -1000, 'yscale': 1000, 'zscale': 1000})
    line(m, (12000, 1000), (12000, 3000), 'E-CNDT')
    text(m, 'B-1 100 dia', (12050, 2600))
    line(m, (14500, 5000), (16000, 5000), 'E-CNDT')
    text(m, 'B-2 100 dia', (15300, 5050))
    line(m, (-2000, 1000), (-2000, 3000), 'E-CNDT')
    text(m, 'B-3 100 dia', (-1950, 2600))
    line(m, (-5800, 5000), (-4400, 5000), 'E-CNDT')
    text(m, 'B-4 100 dia', (-4950, 5050))
    return [pen(12000, 2000, 200, [100], ['B-1']), pen(15100, 5000, 200, [100], ['B-2']),
            pen(-2000, 2000, 200, [100], ['B-3']), pen(-5100, 5000, 200, [100], ['B-4'])]


@case()
def arrayed_blocks(doc, m):
    """A row of columns' infill walls as an array of one block."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    block = doc.blocks.new('PANEL')
    block.add_lwpolyline([(0, 0), (2000, 0), (2000, 180), (0, 180)], close=True, dxfattribs={'layer': 'A-WALL'})
    m.add_blockref('PANEL', (0, 0), dxfattribs={
        'layer': '0', 'column_count': 3, 'row_count': 2, 'column_spacing': 3000, 'row_spacing': 4000})
    line(m, (4000, -700), (4000, 5200), 'E-CNDT')
    text(m, 'Y-1 65 dia', (4050, 2000))
    return [pen(4000, 90, 180, [65], ['Y-1']), pen(4000, 4090, 180, [65], ['Y-1'])]


@case()
def whole_plan_in_one_block(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    block = doc.blocks.new('XREF1')
    wall(block, (0, 100), (6000, 100), 200)
    line(block, (2000, -900), (2000, 900), 'E-CNDT')
    text(block, 'X-1 40 dia', (2050, 500))
    m.add_blockref('XREF1', (1000, 500), dxfattribs={'layer': '0'})
    doc.blocks.new('SPARE').add_line((0, 0), (0, 5), dxfattribs={'layer': 'E-CNDT'})
    return [pen(3000, 600, 200, [40], ['X-1'])]


@case('R2000')
def mirrored_extrusion(doc, m):
    """Entities drawn in a plane seen from below: x runs backwards."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    down = (0, 0, -1)
    m.add_lwpolyline([(-5000, 0), (0, 0), (0, 200), (-5000, 200)], close=True,
                     dxfattribs={'layer': 'A-WALL', 'extrusion': down})
    m.add_lwpolyline([(-2000, -900), (-2000, 900)], dxfattribs={'layer': 'E-CNDT', 'extrusion': down})
    t = m.add_text('O-1 80 dia', height=100, dxfattribs={'layer': 'E-TEXT'})
    t.set_pos((2050, 500))
    for r in (3000, 3200):
        m.add_arc((-9000, 0), r, 20, 160, dxfattribs={'layer': 'A-WALL', 'extrusion': down})
    line(m, (9000, 2200), (9000, 4000), 'E-CNDT')
    text(m, 'O-2 80 dia', (9050, 3500))
    return [pen(2000, 100, 200, [80], ['O-1']), pen(9000, 3100, 200, [80], ['O-2'])]


# --- services ----------------------------------------------------------------------------------

@case()
def broken_lines(doc, m):
    """Lines that stop at the faces, pieces that meet inside the wall, a polyline with two crossings."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    line(m, (1000, -1000), (1000, 0), 'E-CNDT')
    line(m, (1000, 200), (1000, 1200), 'E-CNDT')
    text(m, 'L-1 100 dia', (1050, 700))
    line(m, (3000, -1000), (3000, 90), 'E-CNDT')
    line(m, (3000, 90), (3000, 1200), 'E-CNDT')
    text(m, 'L-2 100 dia', (3050, 700))
    m.add_lwpolyline([(5000, -1000), (5000, 900), (6500, 900), (6500, -1000)], dxfattribs={'layer': 'E-CNDT'})
    text(m, 'L-3 100 dia', (5400, 950))
    for i in range(12):  # dashes drawn as short lines
        line(m, (8000, -1200 + i * 200), (8000, -1200 + i * 200 + 120), 'E-CNDT')
    text(m, 'L-4 100 dia', (8050, 700))
    return [pen(1000, 100, 200, [100], ['L-1']), pen(3000, 100, 200, [100], ['L-2']),
            pen(5000, 100, 200, [100], ['L-3']), pen(6500, 100, 200, [100], ['L-3']),
            pen(8000, 100, 200, [100], ['L-4'])]


@case()
def splines_and_arcs(doc, m):
    layer(doc, 'A-WALL', 'E-CABL', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    m.add_spline(fit_points=None, dxfattribs={'layer': 'E-CABL'}).set_open_uniform(
        [(1000, -1000), (1000, -300), (1000, 500), (1000, 1200), (2000, 1500)], degree=3)
    text(m, 'Q-1 30 dia', (1060, 800))
    # a quarter circle whose tangent is square to the wall where it goes through its middle
    m.add_arc((4000, 100), 1500, 330, 30, dxfattribs={'layer': 'E-CABL'})
    text(m, 'Q-2 30 dia', (5600, 500))
    return [pen(1000, 100, 200, [30], ['Q-1']), pen(5498, 100, 200, [30], ['Q-2'])]


@case()
def skew(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 150), (9000, 150), 300)
    line(m, (1000, -1000), (3300, 1300), 'E-CNDT')
    text(m, 'W-1 100 dia', (3000, 800))
    return [pen(2150, 150, 300, [100], ['W-1'])]


@case()
def not_through(doc, m):
    """Ends inside, along the wall, against the face, past the end of the wall."""
    layer(doc, 'A-WALL', 'E-CNDT')
    wall(m, (0, 150), (6000, 150), 300)
    line(m, (1000, -1000), (1000, 150), 'E-CNDT')
    line(m, (2000, 150), (4000, 150), 'E-CNDT')
    line(m, (4500, -1000), (4500, 0), 'E-CNDT')
    line(m, (7000, -1000), (7000, 1000), 'E-CNDT')
    line(m, (0, -50), (6000, -50), 'E-CNDT')
    return []


@case()
def trays_by_two_lines(doc, m):
    layer(doc, 'A-WALL', 'E-CABL-TRAY', 'M-DUCT', 'E-TEXT')
    wall(m, (0, 100), (12000, 100), 200)
    for x in (1000, 1300):
        line(m, (x, -1500), (x, 1500), 'E-CABL-TRAY')
    text(m, 'TR-01 300x50', (1150, 800), rotation=90)
    for x in (4000, 4600):
        line(m, (x, -1500), (x, 1500), 'M-DUCT')
    text(m, '600x400 SA-1', (4700, 700))
    # an outline closed at its ends
    m.add_lwpolyline([(8000, -1500), (8450, -1500), (8450, 1500), (8000, 1500)], close=True,
                     dxfattribs={'layer': 'E-CABL-TRAY'})
    text(m, 'TR-02 450x75', (8500, 700))
    return [pen(1150, 100, 200, [300, 50], ['TR-01']), pen(4300, 100, 200, [600, 400], ['SA-1']),
            pen(8225, 100, 200, [450, 75], ['TR-02'])]


@case()
def pipes_by_two_lines(doc, m):
    """Pipes drawn by both edges, with and without a centre line."""
    layer(doc, 'A-WALL', 'P-PIPE', 'P-PIPE-CNTR', 'P-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    for x in (1945, 2055):
        line(m, (x, -1500), (x, 1500), 'P-PIPE')
    line(m, (2000, -1600), (2000, 1600), 'P-PIPE-CNTR')
    text(m, 'P-1 %%c110', (2150, 700), 'P-TEXT')
    for x in (5920, 6080):
        line(m, (x, -1500), (x, 1500), 'P-PIPE')
    text(m, 'P-2 %%c160', (6150, 700), 'P-TEXT')
    return [pen(2000, 100, 200, [110], ['P-1']), pen(6000, 100, 200, [160], ['P-2'])]


@case()
def symbols_with_attributes(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-SLEEVE', 'A-OPNG')
    wall(m, (0, 100), (9000, 100), 200)
    block = doc.blocks.new('SLEEVE')
    block.add_circle((0, 0), 60, dxfattribs={'layer': '0'})
    block.add_attdef('SIZE', (100, 0), dxfattribs={'height': 80})
    block.add_attdef('REF', (100, -120), dxfattribs={'height': 80})
    # on a line: it names the line's crossing
    line(m, (2000, -1000), (2000, 1200), 'E-CNDT')
    ref = m.add_blockref('SLEEVE', (2000, 100), dxfattribs={'layer': 'E-CNDT'})
    ref.add_auto_attribs({'SIZE': '110', 'REF': 'D-41'})
    # alone in the wall, on the service layer
    ref = m.add_blockref('SLEEVE', (5000, 100), dxfattribs={'layer': 'E-CNDT'})
    ref.add_auto_attribs({'SIZE': '4x150 dia', 'REF': 'D-42'})
    # alone in the wall, on an opening layer
    ref = m.add_blockref('SLEEVE', (7000, 100), dxfattribs={'layer': 'A-OPNG'})
    ref.add_auto_attribs({'SIZE': '200', 'REF': 'OP-7'})
    return [pen(2000, 100, 200, [110], ['D-41']), pen(5000, 100, 200, [150], ['D-42'], count=4),
            pen(7000, 100, 200, None, ['OP-7'], count=0, shape=[200])]


@case()
def several_in_one_opening(doc, m):
    layer(doc, 'A-WALL', 'E-CABL', 'A-OPNG', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    outline(m, [(2000, 0), (2600, 0), (2600, 200), (2000, 200)], 'A-OPNG')
    text(m, 'OP-01 600x300', (2050, 1500))
    for i, x in enumerate((2100, 2250, 2400)):
        line(m, (x, -1000), (x, 1200), 'E-CABL')
        text(m, f'C-{i + 1} 40 dia', (x + 20, 300), height=50, rotation=90)
    m.add_leader([(2300, 200), (2300, 1450)], dxfattribs={'layer': 'E-TEXT'})
    line(m, (5000, -1000), (5000, 1200), 'E-CABL')
    text(m, 'C-9 40 dia', (5050, 700))
    return [pen(2300, 100, 200, [40], ['OP-01', 'C-1', 'C-2', 'C-3'], count=3, shape=[600, 300], kind='opening'),
            pen(5000, 100, 200, [40], ['C-9'])]


@case()
def opening_drawn_as_a_gap(doc, m):
    """The wall's lines stop at the opening, which is drawn as a rectangle with a cross."""
    layer(doc, 'A-WALL', 'E-CABL-TRAY', 'A-WALL-OPNG', 'E-TEXT')
    wall(m, (0, 125), (3000, 125), 250)
    wall(m, (3500, 125), (8000, 125), 250)
    outline(m, [(3000, 0), (3500, 0), (3500, 250), (3000, 250)], 'A-WALL-OPNG')
    line(m, (3000, 0), (3500, 250), 'A-WALL-OPNG')
    line(m, (3000, 250), (3500, 0), 'A-WALL-OPNG')
    text(m, 'OP-2 500x200', (3050, 350))
    for x in (3100, 3400):
        line(m, (x, -1500), (x, 1500), 'E-CABL-TRAY')
    text(m, 'TR-5 300x60', (3250, 900), rotation=90)
    return [pen(3250, 125, 250, [300, 60], ['OP-2', 'TR-5'], shape=[500, 200], kind='opening')]


@case()
def group_by_count(doc, m):
    layer(doc, 'S-WALL', 'E-DUCT', 'E-TEXT')
    wall(m, (0, 150), (12000, 150), 300, 'S-WALL')
    line(m, (2000, -1500), (2000, 1500), 'E-DUCT')
    text(m, '4 no. 100 ducts D-01 to D-04', (2050, 900))
    for x in (6000, 6150, 6300, 6450):
        line(m, (x, -1500), (x, 1500), 'E-DUCT')
    text(m, '4 NO. 100 DUCTS', (6550, 900))
    return [pen(2000, 150, 300, [100], ['D-01', 'D-02', 'D-03', 'D-04'], count=4),
            pen(6225, 150, 300, [100], [], count=4)]


# --- labels ------------------------------------------------------------------------------------

@case()
def neighbours_keep_their_labels(doc, m):
    """Five conduits 250 apart, each with its text on it; texts run along their lines."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (100, -500), (100, 3000), 200)
    sizes = (20, 25, 32, 40, 50)
    for i, size in enumerate(sizes):
        y = 250 * i
        line(m, (-2000, y), (2500, y), 'E-CNDT')
        text(m, f'N-{i + 1} {size} dia', (400, y + 30))
    return [pen(100, 250 * i, 200, [size], [f'N-{i + 1}']) for i, size in enumerate(sizes)]


@case('R2010')
def leaders(doc, m):
    """Two lines side by side; each label hangs on a leader that points at its own line."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (6000, 100), 200)
    line(m, (2000, -1500), (2000, 1500), 'E-CNDT')
    line(m, (2200, -1500), (2200, 1500), 'E-CNDT')
    m.add_leader([(2000, 600), (2700, 1200), (2900, 1200)], dxfattribs={'layer': 'E-TEXT'})
    text(m, 'G-1 63 dia', (2930, 1150))
    m.add_leader([(2200, 400), (2700, 700), (2900, 700)], dxfattribs={'layer': 'E-TEXT'})
    mt = m.add_mtext(r'{\fArial|b0|i0;G-2\P%%c75}', dxfattribs={
        'layer': 'E-TEXT', 'char_height': 100, 'insert': (2930, 780), 'attachment_point': 1})
    return [pen(2000, 100, 200, [63], ['G-1']), pen(2200, 100, 200, [75], ['G-2'])]


@case('R2010')
def multileaders(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (6000, 100), 200)
    line(m, (2000, -1500), (2000, 1500), 'E-CNDT')
    line(m, (2200, -1500), (2200, 1500), 'E-CNDT')
    from ezdxf.render import mleader
    for tip, at, s in (((2000, 600), (3000, 1200), 'V-1 %%c63'), ((2200, 400), (3000, 700), 'V-2 %%c75')):
        b = m.add_multileader_mtext('Standard')
        b.set_content(s, char_height=100)
        b.add_leader_line(mleader.ConnectionSide.left, [Vec3(tip)])
        b.build(insert=Vec3(at).vec2)
        b.multileader.dxf.layer = 'E-TEXT'
    return [pen(2000, 100, 200, [63], ['V-1']), pen(2200, 100, 200, [75], ['V-2'])]


@case('R2004')
def heights_in_labels(doc, m):
    layer(doc, 'A-WALL', 'P-PIPE', 'P-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    for x, s in ((1000, 'P-1 110 dia CL +2.400'), (4000, 'P-2 100 dia U/S 2000 AFFL'), (7000, 'P-3 200 dia IL -0.500')):
        line(m, (x, -1500), (x, 1500), 'P-PIPE')
        text(m, s, (x + 50, 700), 'P-TEXT')
    return [pen(1000, 100, 200, [110], ['P-1'], z=2400), pen(4000, 100, 200, [100], ['P-2'], z=2050),
            pen(7000, 100, 200, [200], ['P-3'], z=-400)]


# --- layers ------------------------------------------------------------------------------------

def layers_case(wall_layer, service_layer, size=50):
    def make(doc, m):
        layer(doc, wall_layer, service_layer)
        wall(m, (0, 100), (6000, 100), 200, wall_layer)
        wall(m, (100, 200), (100, 4000), 200, wall_layer)
        line(m, (2000, -1500), (2000, 1500), service_layer)
        text(m, f'Z-1 {size} dia', (2050, 700), '0')
        line(m, (-900, 2000), (1500, 2000), service_layer)
        text(m, f'Z-2 {size} dia', (400, 2050), '0')
        return [pen(2000, 100, 200, [size], ['Z-1']), pen(100, 2000, 200, [size], ['Z-2'])]
    return make


for _i, (_w, _s, _v) in enumerate((
        ('A-WALL-FULL-N', 'E-POWR-CABL', 'R2010'),
        ('xref-house$0$A-WALL', 'xref-serv$0$M-HVAC-DUCT', 'R2004'),
        ('a-wall', 'p-sanr-pipe', 'R12'),
        ('A-G25-M2_ExternalWalls', 'E-G53-M2_Cables', 'R2018'),
        ('A-EF_25_10-M_Walls', 'M-Ss_65_40-M_Ductwork', 'R2013'),
        ('A-21----E-----------', 'E-61----E-----------', 'R2007'),
        ('Außenwände', 'Kabeltrasse', 'R2010'),
        ('MURS PORTEURS', 'CHEMIN DE CABLES', 'R2000'),
        ('MUROS', 'TUBERIAS', 'R2000'),
        ('Стены', 'Кабель', 'R2007'),
        ('S-FNDN-WALL', 'T-CABL', 'R2010'),
        ('A-WALL', 'F-SPRN-PIPE', 'R2010'))):
    case(_v, name=f'layers-{_i + 1}')(layers_case(_w, _s))


@case('R2000')
def cyrillic_code_page(doc, m):
    doc.header['$DWGCODEPAGE'] = 'ANSI_1251'
    doc.encoding = 'cp1251'
    return layers_case('Стены несущие', 'Трубы')(doc, m)


@case()
def hidden_content(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-CABL', 'E-POWR', 'E-TEXT')
    doc.layers.get('E-CABL').freeze()
    doc.layers.get('E-POWR').off()
    wall(m, (0, 100), (9000, 100), 200)
    line(m, (1000, -900), (1000, 900), 'E-CNDT')
    text(m, 'I-1 50 dia', (1050, 500))
    line(m, (3000, -900), (3000, 900), 'E-CABL')
    line(m, (5000, -900), (5000, 900), 'E-POWR')
    return [pen(1000, 100, 200, [50], ['I-1'])]


@case(hosts={'layers': ['PLAN 3*']}, services={'layers': [{'pattern': 'job-7', 'kind': 'pipe'}]}, name='listed-layers')
def listed_layers(doc, m):
    return layers_case('Plan 3 thick', 'JOB-7')(doc, m)


@case(file={'views': [
    {'view': 'plan', 'name': 'Level 1', 'window': [-1000, -3000, 9000, 3000], 'level': 'L1', 'elevationMm': 0},
    {'view': 'plan', 'name': 'Level 2', 'window': [-1000, 7000, 9000, 13000], 'level': 'L2', 'elevationMm': 3600,
     'basePoint': [0, 10000], 'atMm': [0, 0, 3600], 'serviceHeightMm': 2700}]})
def two_plans_in_one_drawing(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    for dy, name in ((0, 'U-1'), (10000, 'U-2')):
        wall(m, (0, dy + 100), (8000, dy + 100), 200)
        line(m, (3000, dy - 1000), (3000, dy + 1200), 'E-CNDT')
        text(m, f'{name} 50 dia', (3050, dy + 700))
    return [pen(3000, 100, 200, [50], ['U-1'], z=0), pen(3000, 100, 200, [50], ['U-2'], z=6300)]


# --- sections and elevations -------------------------------------------------------------------

@case(file={'view': 'section'})
def section_cut_walls_and_slab(doc, m):
    """A pit cut through: services cross its wall sideways and its slab upright."""
    layer(doc, 'S-WALL', 'S-SLAB', 'P-PIPE', 'P-TEXT')
    outline(m, [(0, -3000), (300, -3000), (300, 0), (0, 0)], 'S-WALL')
    outline(m, [(300, -250), (5000, -250), (5000, 0), (300, 0)], 'S-SLAB')
    line(m, (-1500, -1800), (1500, -1800), 'P-PIPE')
    text(m, 'E-1 160 dia', (500, -1750), 'P-TEXT')
    line(m, (2500, -1500), (2500, 1200), 'P-PIPE')
    text(m, 'E-2 110 dia', (2550, 600), 'P-TEXT')
    return [pen(150, 0, 300, [160], ['E-1'], z=-1800), pen(2500, 0, 250, [110], ['E-2'], z=-125)]


@case(file={'views': [{'view': 'section', 'name': 'A-A', 'datum': {'y': 1000, 'heightMm': 12000},
                       'basePoint': [500, 0], 'atMm': [7000, 2000, 0]}]})
def section_with_datum(doc, m):
    layer(doc, 'S-WALL', 'P-PIPE', 'P-TEXT')
    outline(m, [(500, 0), (800, 0), (800, 3000), (500, 3000)], 'S-WALL')
    line(m, (-500, 2000), (2500, 2000), 'P-PIPE')
    text(m, 'E-9 160 dia', (1000, 2050), 'P-TEXT')
    return [pen(7150, 2000, 300, [160], ['E-9'], z=13000)]


@case(file={'view': 'elevation'})
def duct_bank_in_elevation(doc, m):
    """Six ducts cast in one by one: an opening each, names written row by row from the top."""
    layer(doc, 'S-WALL', 'E-DUCT', 'E-TEXT')
    outline(m, [(0, 0), (4000, 0), (4000, 2500), (0, 2500)], 'S-WALL')
    for row in range(2):
        for column in range(3):
            m.add_circle((1000 + 300 * column, 1500 - 300 * row), 75, dxfattribs={'layer': 'E-DUCT'})
    text(m, '6 no. 150 dia ducts D-01 to D-06', (2200, 1300))
    text(m, 'WALL 300 THK', (2500, 2200), 'A-TEXT')
    layer(doc, 'A-TEXT')
    out = []
    for row in range(2):
        for column in range(3):
            out.append(pen(1000 + 300 * column, 0, 300, [150], [f'D-0{row * 3 + column + 1}'],
                           z=1500 - 300 * row, shape=[150]))
    return out


@case(file={'view': 'elevation'})
def frame_round_ducts(doc, m):
    """The same with a frame drawn round them: one opening with several ducts."""
    layer(doc, 'S-WALL', 'E-DUCT', 'S-OPNG', 'E-TEXT')
    outline(m, [(0, 0), (4000, 0), (4000, 2500), (0, 2500)], 'S-WALL')
    outline(m, [(850, 1050), (1750, 1050), (1750, 1650), (850, 1650)], 'S-OPNG')
    for row in range(2):
        for column in range(3):
            m.add_circle((1000 + 300 * column, 1500 - 300 * row), 55, dxfattribs={'layer': 'E-DUCT'})
    text(m, 'OP-3', (1800, 1650))
    return [pen(1300, 0, 0, [110], ['OP-3'], z=1350, count=6, shape=[900, 600], kind='opening', hosts=[0])]


@case(file={'view': 'elevation'})
def concentric_sleeves(doc, m):
    layer(doc, 'S-WALL', 'P-PIPE', 'P-TEXT')
    outline(m, [(0, 0), (6000, 0), (6000, 2500), (0, 2500)], 'S-WALL')
    for x, sleeve, pipe, name in ((1000, 200, 110, 'SL-1'), (3000, 300, 160, 'SL-2')):
        m.add_circle((x, 1200), sleeve / 2, dxfattribs={'layer': 'P-PIPE'})
        m.add_circle((x, 1200), pipe / 2, dxfattribs={'layer': 'P-PIPE'})
        text(m, name, (x + 200, 1300), 'P-TEXT')
    return [pen(1000, 0, 0, [110], ['SL-1'], z=1200, shape=[200], hosts=[0]),
            pen(3000, 0, 0, [160], ['SL-2'], z=1200, shape=[300], hosts=[0])]


@case(file={'view': 'elevation'})
def tray_in_rectangle(doc, m):
    """A tray seen end on inside a rectangular opening; another opening stands empty."""
    layer(doc, 'S-WALL', 'E-CABL-TRAY', 'S-OPNG', 'E-TEXT')
    outline(m, [(0, 0), (6000, 0), (6000, 2500), (0, 2500)], 'S-WALL')
    outline(m, [(1000, 1000), (1500, 1000), (1500, 1250), (1000, 1250)], 'S-OPNG')
    outline(m, [(1100, 1050), (1400, 1050), (1400, 1100), (1100, 1100)], 'E-CABL-TRAY')
    text(m, 'OP-11', (1550, 1200))
    outline(m, [(3000, 1000), (3400, 1000), (3400, 1300), (3000, 1300)], 'S-OPNG')
    text(m, 'OP-12', (3450, 1200))
    return [pen(1250, 0, 0, [300, 50], ['OP-11'], z=1125, shape=[500, 250], kind='opening', hosts=[0]),
            pen(3200, 0, 0, None, ['OP-12'], z=1150, count=0, shape=[400, 300], kind='opening', hosts=[0])]


# --- more walls and services -------------------------------------------------------------------

@case(find={'sharedOpeningSpacingMm': 50})
def grouped_by_spacing(doc, m):
    """Three conduits 20 mm apart share an opening when 50 mm is set; a fourth stands off."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    for i, x in enumerate((2000, 2120, 2240, 3500)):
        line(m, (x, -1500), (x, 1500), 'E-CNDT')
        text(m, f'GS-{i + 1} 100 dia', (x - 8, 400), height=40, rotation=90)
    return [pen(2120, 100, 200, [100], ['GS-1', 'GS-2', 'GS-3'], count=3),
            pen(3500, 100, 200, [100], ['GS-4'])]


@case()
def round_chamber(doc, m):
    """A round chamber of two full circles; ducts in from two sides."""
    layer(doc, 'S-WALL', 'E-DUCT', 'E-TEXT')
    for r in (1500, 1750):
        m.add_circle((0, 0), r, dxfattribs={'layer': 'S-WALL'})
    line(m, (800, 0), (3500, 0), 'E-DUCT')
    text(m, 'RC-1 150 dia', (2000, 60))
    line(m, (0, -800), (0, -3500), 'E-DUCT')
    text(m, 'RC-2 100 dia', (60, -2600))
    return [pen(1625, 0, 250, [150], ['RC-1']), pen(0, -1625, 250, [100], ['RC-2'])]


@case()
def outline_and_hatch(doc, m):
    """The same wall as an outline and as a fill: one host."""
    layer(doc, 'A-WALL', 'A-WALL-PATT', 'E-CNDT', 'E-TEXT')
    points = [(0, 0), (6000, 0), (6000, 215), (0, 215)]
    outline(m, points)
    h = m.add_hatch(dxfattribs={'layer': 'A-WALL-PATT'})
    h.paths.add_polyline_path(points, is_closed=True)
    line(m, (2000, -900), (2000, 1100), 'E-CNDT')
    text(m, 'OH-1 50 dia', (2050, 600))
    return [pen(2000, 107.5, 215, [50], ['OH-1'])]


@case()
def faces_as_polylines(doc, m):
    """Inner and outer face each one polyline, broken at odd places; a jog changes the thickness."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    m.add_lwpolyline([(0, 0), (1300, 0), (1300.0, 0), (4000, 0), (9000, 0)], dxfattribs={'layer': 'A-WALL'})
    m.add_lwpolyline([(0, 200), (3000, 200), (5000, 200)], dxfattribs={'layer': 'A-WALL'})
    m.add_lwpolyline([(5000, 200), (5000, 300), (9000, 300)], dxfattribs={'layer': 'A-WALL'})
    for x, name in ((2500, 'FP-1'), (7000, 'FP-2')):
        line(m, (x, -900), (x, 1200), 'E-CNDT')
        text(m, f'{name} 50 dia', (x + 50, 700))
    return [pen(2500, 100, 200, [50], ['FP-1']), pen(7000, 150, 300, [50], ['FP-2'])]


@case()
def tray_with_a_bend(doc, m):
    """A tray by two polylines that turn a corner and go through two walls."""
    layer(doc, 'A-WALL', 'E-CABL-TRAY', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    wall(m, (6100, 200), (6100, 6000), 200)
    m.add_lwpolyline([(2000, -1500), (2000, 3300), (8000, 3300)], dxfattribs={'layer': 'E-CABL-TRAY'})
    m.add_lwpolyline([(2300, -1500), (2300, 3000), (8000, 3000)], dxfattribs={'layer': 'E-CABL-TRAY'})
    text(m, 'TB-1 300x60', (3500, 3120))
    return [pen(2150, 100, 200, [300, 60], ['TB-1']), pen(6100, 3150, 200, [300, 60], ['TB-1'])]


@case()
def container_block(doc, m):
    """A run in a block that stands on the service layer; the ledger has the block."""
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    block = doc.blocks.new('RUN')
    block.add_line((0, -2000), (0, 2000), dxfattribs={'layer': '0'})
    m.add_blockref('RUN', (3000, 0), dxfattribs={'layer': 'E-CNDT'})
    text(m, 'CB-1 40 dia', (3050, 700))
    return [pen(3000, 100, 200, [40], ['CB-1'])]


@case()
def crossing_runs(doc, m):
    """Two runs that cross each other in the open; each keeps its label."""
    layer(doc, 'A-WALL', 'E-CNDT', 'P-PIPE', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    wall(m, (9100, 0), (9100, 5000), 200)
    line(m, (3000, -1500), (3000, 4000), 'E-CNDT')
    line(m, (1000, 2000), (10000, 2000), 'P-PIPE')
    text(m, 'XR-1 63 dia', (3080, 700))
    text(m, 'XR-2 110 dia', (5000, 2060))
    return [pen(3000, 100, 200, [63], ['XR-1']), pen(9100, 2000, 200, [110], ['XR-2'])]


@case(units=1)
def bare_numbers_in_inches(doc, m):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 4), (240, 4), 8)
    line(m, (100, -50), (100, 60), 'E-CNDT')
    text(m, 'C-12 4 DIA', (102, 30), height=4)
    return [pen(2540, 101.6, 203.2, [101.6], ['C-12'])]


def words_case(label, size, refs, count, wall_layer='A-WALL', service_layer='E-DUCT'):
    def make(doc, m):
        layer(doc, wall_layer, service_layer)
        wall(m, (0, 150), (6000, 150), 300, wall_layer)
        line(m, (2000, -1500), (2000, 1500), service_layer)
        text(m, label, (2050, 700), '0')
        return [pen(2000, 150, 300, size, refs, count=count)]
    return make


for _i, _args in enumerate((
        ('4x150 dia', [150], [], 4), ('%%c110 D-7', [110], ['D-7'], 1), ('%%C50', [50], [], 1),
        ('2 No. 100 ducts', [100], [], 2), ('300x50', [300, 50], [], 1), ('6 x 100mm ducts E-11', [100], ['E-11'], 6),
        ('3 nos 125mm dia', [125], [], 3), ('DUCT 100', [100], [], 1), ('4 fourreaux %%c90', [90], [], 4),
        ('3 Leerrohre DA 110', [110], [], 3), ('2 OFF 150NB', [150], [], 2), ('D-01, 100 dia', [100], ['D-01'], 1),
        ('2x4" dia', [101.6], [], 2), ('D-01 TO D-03 3x100 dia', [100], ['D-01', 'D-02', 'D-03'], 3),
        ('\\U+00D8125 R-4', [125], ['R-4'], 1), ('160 dia (D-12)', [160], ['D-12'], 1))):
    case(name=f'words-{_i + 1}')(words_case(*_args))


@case()
def floor_seen_in_plan(doc, m):
    """Through the floor in a plan: a riser, an opening with a cross, the slab's thickness as a text."""
    layer(doc, 'S-SLAB', 'P-PIPE', 'S-SLAB-OPNG', 'E-TEXT')
    outline(m, [(0, 0), (9000, 0), (9000, 6000), (0, 6000)], 'S-SLAB')
    text(m, 'SLAB 250 THK', (4000, 5500))
    m.add_circle((2000, 2000), 80, dxfattribs={'layer': 'P-PIPE'})
    text(m, 'RW-1', (2120, 2000))
    outline(m, [(5000, 2000), (5600, 2000), (5600, 2400), (5000, 2400)], 'S-SLAB-OPNG')
    line(m, (5000, 2000), (5600, 2400), 'S-SLAB-OPNG')
    line(m, (5000, 2400), (5600, 2000), 'S-SLAB-OPNG')
    text(m, 'FO-1', (5650, 2300))
    return [pen(2000, 2000, 250, [160], ['RW-1']),
            pen(5300, 2200, 250, None, ['FO-1'], count=0, shape=[600, 400], kind='opening')]


@case(file={'view': 'section'})
def duct_bank_in_concrete(doc, m):
    """Eight ducts in a block of concrete drawn by four lines, seen end on."""
    layer(doc, 'S-CONC', 'E-DUCT', 'E-TEXT')
    for a, b in (((0, 0), (1400, 0)), ((1400, 0), (1400, 700)), ((1400, 700), (0, 700)), ((0, 700), (0, 0))):
        line(m, a, b, 'S-CONC')
    for row in range(2):
        for column in range(4):
            m.add_circle((250 + 300 * column, 500 - 300 * row), 50, dxfattribs={'layer': 'E-DUCT'})
    text(m, '8x100 dia ducts', (1500, 400))
    return [pen(250 + 300 * c, 0, 0, [100], [], z=500 - 300 * r, shape=[100], hosts=[0])
            for r in range(2) for c in range(4)]


@case(file={'views': [
    {'view': 'plan', 'name': 'Plan', 'window': [-2000, -2000, 8000, 4000], 'level': 'Pit', 'elevationMm': 0,
     'basePoint': [0, 0], 'atMm': [0, 0, 0]},
    {'view': 'section', 'name': 'A-A', 'window': [-2000, 9000, 8000, 14000],
     'basePoint': [0, 0], 'atMm': [0, 0, 0], 'datum': {'y': 10000, 'heightMm': 0}}]})
def plan_and_section(doc, m):
    """The same two pipes in plan and section: each hole once, at the section's height."""
    layer(doc, 'S-WALL', 'P-PIPE', 'P-TEXT')
    outline(m, [(0, 0), (300, 0), (300, 3000), (0, 3000)], 'S-WALL')
    for y, name, size in ((1000, 'PS-1', 110), (2200, 'PS-2', 160)):
        line(m, (-1500, y), (2000, y), 'P-PIPE')
        text(m, f'{name} {size} dia', (500, y + 50), 'P-TEXT')
    outline(m, [(0, 10000), (300, 10000), (300, 13000), (0, 13000)], 'S-WALL')
    for y, name, size in ((10800, 'PS-1', 110), (11700, 'PS-2', 160)):
        line(m, (-1500, y), (2000, y), 'P-PIPE')
        text(m, f'{name} {size} dia', (500, y + 50), 'P-TEXT')
    return [pen(150, 1000, 300, [110], ['PS-1'], z=800), pen(150, 2200, 300, [160], ['PS-2'], z=1700)]


@case()
def box_symbols(doc, m):
    """Openings as blocks with width and height as attributes, in walls along x and y."""
    layer(doc, 'A-WALL', 'A-OPNG')
    wall(m, (0, 100), (6000, 100), 200)
    wall(m, (6100, 0), (6100, 4000), 200)
    block = doc.blocks.new('BWIC')
    block.add_lwpolyline([(-200, -100), (200, -100), (200, 100), (-200, 100)], close=True, dxfattribs={'layer': '0'})
    for i, tag in enumerate(('MARK', 'WIDTH', 'HEIGHT')):
        block.add_attdef(tag, (250, -80 * i), dxfattribs={'height': 60})
    ref = m.add_blockref('BWIC', (2000, 100), dxfattribs={'layer': 'A-OPNG'})
    ref.add_auto_attribs({'MARK': 'BW-1', 'WIDTH': '400', 'HEIGHT': '250'})
    ref = m.add_blockref('BWIC', (6100, 2000), dxfattribs={'layer': 'A-OPNG', 'rotation': 90})
    ref.add_auto_attribs({'MARK': 'BW-2', 'WIDTH': '400', 'HEIGHT': '300'})
    return [pen(2000, 100, 200, None, ['BW-1'], count=0, shape=[400, 250]),
            pen(6100, 2000, 200, None, ['BW-2'], count=0, shape=[400, 300])]


@case(file={'view': 'elevation'})
def equal_sleeves_own_names(doc, m):
    """A row of equal sleeves, each with its own name beside it."""
    layer(doc, 'S-WALL', 'E-CNDT', 'E-TEXT')
    outline(m, [(0, 0), (6000, 0), (6000, 2500), (0, 2500)], 'S-WALL')
    for i in range(4):
        m.add_circle((1000 + 400 * i, 1200), 50, dxfattribs={'layer': 'E-CNDT'})
        text(m, f'ES-{i + 1}', (1000 + 400 * i - 70, 1300), height=60)
    return [pen(1000 + 400 * i, 0, 0, [100], [f'ES-{i + 1}'], z=1200, shape=[100], hosts=[0]) for i in range(4)]


# --- drawings without useful layers ------------------------------------------------------------

def flat_plan(m, scale):
    """All on layer 0: walls thick and black, conduits thin and blue, furniture grey."""
    def put(a, b, colour, weight):
        m.add_line((a[0] / scale, a[1] / scale), (b[0] / scale, b[1] / scale),
                   dxfattribs={'layer': '0', 'color': colour, 'lineweight': weight})

    def rectangle(x0, y0, x1, y1):
        for a, b in (((x0, y0), (x1, y0)), ((x1, y0), (x1, y1)), ((x1, y1), (x0, y1)), ((x0, y1), (x0, y0))):
            put(a, b, 7, 50)

    rectangle(0, 0, 9000, 200)
    rectangle(0, 5000, 9000, 5200)
    rectangle(0, 200, 200, 5000)
    rectangle(8800, 200, 9000, 5000)
    for x in (2000, 6000):
        put((x, -1200), (x, 1500), 5, 18)
    for i in range(5):
        put((3000, 2000 + 300 * i), (4500, 2000 + 300 * i), 8, 9)


@case()
def colours_instead_of_layers(doc, m):
    flat_plan(m, 1)
    text(m, 'PL-1 100 dia', (2050, 700), '0')
    text(m, 'PL-2 50 dia', (6050, 700), '0')
    return [pen(2000, 100, 200, [100], ['PL-1']), pen(6000, 100, 200, [50], ['PL-2'])]


@case(file={'paperScale': 50})
def paper_size_with_letters(doc, m):
    """From a PDF: at 1:50 on paper, texts broken into letters."""
    flat_plan(m, 50)
    for s, x in (('PL-1 100 dia', 2050), ('PL-2 50 dia', 6050)):
        at = x
        for letter in s:
            if letter != ' ':
                text(m, letter, (at / 50, 700 / 50), '0', height=2)
            at += 70
    return [pen(2000, 100, 200, [100], ['PL-1']), pen(6000, 100, 200, [50], ['PL-2'])]


def main(out):
    truth = {}
    for name, (function, version, units, settings) in CASES.items():
        doc, m = new(version, units)
        expected = function(doc, m)
        path = os.path.join(out, name + '.dxf')
        doc.saveas(path)
        truth[name] = {'version': version, 'settings': settings, 'expected': expected, 'isGap': name in KNOWN_GAPS}
    with open(os.path.join(out, 'truth.json'), 'w', encoding='utf-8') as f:
        json.dump(truth, f, ensure_ascii=False)


if __name__ == '__main__':
    main(sys.argv[1])
