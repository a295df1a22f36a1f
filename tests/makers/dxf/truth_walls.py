"""Truth drawings of walls: junctions, cavities, hatches, curves, ellipses, splines, gaps, old files."""
import math

from ezdxf.math import Vec3

from truth_tools import case, layer, line, outline, pen, text, wall


def run(m, a, b, label, at=None, on='E-CNDT', height=100, rotation=0.0):
    """A service as one line and the text that stands beside it."""
    line(m, a, b, on)
    if label:
        place = at or ((a[0] + b[0]) / 2 + 60, (a[1] + b[1]) / 2 + 300)
        text(m, label, place, height=height, rotation=rotation)


def basics(doc):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT')


@case()
def corner_of_two_walls(doc, m):
    """An L with mitred faces; one run close to the corner in each leg."""
    basics(doc)
    m.add_lwpolyline([(0, 4000), (0, 0), (6000, 0)], dxfattribs={'layer': 'A-WALL'})
    m.add_lwpolyline([(250, 4000), (250, 250), (6000, 250)], dxfattribs={'layer': 'A-WALL'})
    run(m, (600, -900), (600, 1200), 'LC-1 40 dia', (660, 800))
    run(m, (-900, 2500), (1200, 2500), 'LC-2 40 dia', (400, 2560))
    return [pen(600, 125, 250, [40], ['LC-1']), pen(125, 2500, 250, [40], ['LC-2'])]


@case()
def crossing_walls_not_trimmed(doc, m):
    """Two walls drawn right through each other: four faces that cross."""
    basics(doc)
    for y in (0, 200):
        line(m, (-4000, y), (4000, y), 'A-WALL')
    for x in (-75, 75):
        line(m, (x, -3000), (x, 3000), 'A-WALL')
    run(m, (2000, -800), (2000, 1000), 'CX-1 63 dia', (2060, 500))
    run(m, (-2000, -800), (-2000, 1000), 'CX-2 63 dia', (-1940, 500))
    run(m, (-800, 1800), (900, 1800), 'CX-3 63 dia', (200, 1860))
    run(m, (-800, -1800), (900, -1800), 'CX-4 63 dia', (200, -1740))
    return [pen(2000, 100, 200, [63], ['CX-1']), pen(-2000, 100, 200, [63], ['CX-2']),
            pen(0, 1800, 150, [63], ['CX-3']), pen(0, -1800, 150, [63], ['CX-4'])]


@case()
def cross_junction_trimmed(doc, m):
    """A cleaned-up crossing of two walls, drawn as eight lines."""
    basics(doc)
    for sx in (-1, 1):
        for sy in (-1, 1):
            line(m, (sx * 100, sy * 100), (sx * 4000, sy * 100), 'A-WALL')
            line(m, (sx * 100, sy * 100), (sx * 100, sy * 4000), 'A-WALL')
    run(m, (-1500, -900), (-1500, 1000), 'CJ-1 50 dia', (-1440, 500))
    run(m, (-900, 2000), (1000, 2000), 'CJ-2 50 dia', (200, 2060))
    return [pen(-1500, 0, 200, [50], ['CJ-1']), pen(0, 2000, 200, [50], ['CJ-2'])]


@case()
def tee_as_two_outlines(doc, m):
    """A T of two closed outlines that touch."""
    basics(doc)
    outline(m, [(0, 0), (8000, 0), (8000, 300), (0, 300)])
    outline(m, [(4000, 300), (4200, 300), (4200, 4000), (4000, 4000)])
    run(m, (2000, -900), (2000, 1200), 'TT-1 90 dia', (2060, 800))
    run(m, (3200, 2000), (5200, 2000), 'TT-2 90 dia', (4400, 2060))
    return [pen(2000, 150, 300, [90], ['TT-1']), pen(4100, 2000, 200, [90], ['TT-2'])]


@case('R2013')
def hatch_with_edges_and_arcs(doc, m):
    """A curved wall as a hatch of edges: two arcs and two lines; nothing else draws it."""
    layer(doc, 'A-WALL-PATT', 'E-CNDT', 'E-TEXT')
    h = m.add_hatch(dxfattribs={'layer': 'A-WALL-PATT'})
    edge = h.paths.add_edge_path()
    edge.add_arc((0, 0), 5000, 20, 160, True)
    c, s = math.cos(math.radians(160)), math.sin(math.radians(160))
    edge.add_line((5000 * c, 5000 * s), (4700 * c, 4700 * s))
    edge.add_arc((0, 0), 4700, 20, 160, False)
    edge.add_line((-4700 * c, 4700 * s), (-5000 * c, 5000 * s))
    run(m, (0, 3500), (0, 6200), 'HA-1 100 dia', (60, 5700))
    return [pen(0, 4850, 300, [100], ['HA-1'])]


@case()
def hatch_on_another_layer(doc, m):
    """Faces on the wall layer, the wall's hatch on a pattern layer, lines of the hatch exploded."""
    layer(doc, 'A-WALL', 'A-WALL-PATT', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 125), (5000, 125), 250)
    for i in range(48):
        x = 100 + i * 100
        line(m, (x, 0), (x + 100, 100), 'A-WALL-PATT')
        line(m, (x, 150), (x + 100, 250), 'A-WALL-PATT')
    run(m, (2030, -900), (2030, 1200), 'HL-1 50 dia', (2090, 800))
    return [pen(2030, 125, 250, [50], ['HL-1'])]


@case()
def party_wall(doc, m):
    """Two block leaves of 140 with a cavity of 75, drawn as four lines, with ends."""
    basics(doc)
    for a, b in ((0, 140), (215, 355)):
        line(m, (0, a), (7000, a), 'A-WALL')
        line(m, (0, b), (7000, b), 'A-WALL')
        line(m, (0, a), (0, b), 'A-WALL')
        line(m, (7000, a), (7000, b), 'A-WALL')
    run(m, (3000, -900), (3000, 1300), 'PW-1 110 dia', (3060, 900))
    return [pen(3000, 177.5, 355, [110], ['PW-1'], hosts=[140, 140])]


@case()
def facets_instead_of_arcs(doc, m):
    """A curved wall as two polylines of short straight pieces."""
    basics(doc)
    for r in (4000, 4200):
        m.add_lwpolyline([(r * math.cos(math.radians(a)), r * math.sin(math.radians(a)))
                          for a in range(30, 151, 5)], dxfattribs={'layer': 'A-WALL'})
    c = math.cos(math.radians(87.5))
    s = math.sin(math.radians(87.5))
    run(m, (3200 * c, 3200 * s), (5000 * c, 5000 * s), 'FC-1 80 dia', (4600 * c + 80, 4600 * s))
    flat = math.cos(math.radians(2.5))
    return [pen(4100 * c * flat, 4100 * s * flat, 200 * flat, [80], ['FC-1'])]


@case('R2000')
def elliptic_wall(doc, m):
    """An inner and an outer ellipse with parallel axes; a run along each half axis."""
    basics(doc)
    m.add_ellipse((0, 0), major_axis=(6000, 0), ratio=4000 / 6000, dxfattribs={'layer': 'A-WALL'})
    m.add_ellipse((0, 0), major_axis=(6200, 0), ratio=4200 / 6200, dxfattribs={'layer': 'A-WALL'})
    run(m, (0, 3000), (0, 5200), 'EW-1 75 dia', (60, 4700))
    run(m, (5000, 0), (7400, 0), 'EW-2 75 dia', (6500, 60))
    return [pen(0, 4100, 200, [75], ['EW-1']), pen(6100, 0, 200, [75], ['EW-2'])]


@case('R2000')
def spline_wall(doc, m):
    """A wavy wall as two splines, one 250 above the other; the runs go through flat places."""
    basics(doc)
    for dy in (0, 250):
        points = [(x * 500, dy + 300 * math.sin(x * math.pi / 8)) for x in range(17)]
        m.add_spline(fit_points=[Vec3(p) for p in points], dxfattribs={'layer': 'A-WALL'}) \
            .apply_construction_tool(spline_through(points))
    run(m, (2000, -700), (2000, 1500), 'SP-1 60 dia', (2060, 1100))
    run(m, (6000, -1200), (6000, 900), 'SP-2 60 dia', (6060, 500))
    return [pen(2000, 425, 250, [60], ['SP-1']), pen(6000, -175, 250, [60], ['SP-2'])]


def spline_through(points):
    from ezdxf.math import global_bspline_interpolation
    return global_bspline_interpolation([Vec3(p) for p in points], degree=3)


@case()
def gap_with_jambs(doc, m):
    """The wall's lines stop at a hole 400 wide that nothing else draws; a tray goes through it."""
    layer(doc, 'A-WALL', 'E-CABL-TRAY', 'E-TEXT')
    wall(m, (0, 100), (3000, 100), 200)
    wall(m, (3400, 100), (8000, 100), 200)
    for x in (3050, 3350):
        line(m, (x, -1500), (x, 1500), 'E-CABL-TRAY')
    text(m, 'TR-9 300x60', (3250, 600), rotation=90)
    return [pen(3200, 100, 200, [300, 60], ['TR-9'])]


@case()
def gap_without_jambs(doc, m):
    """Two lines with a break of 300 in both; a conduit goes through the break, another through the wall."""
    basics(doc)
    for y in (0, 215):
        line(m, (0, y), (4000, y), 'A-WALL')
        line(m, (4300, y), (9000, y), 'A-WALL')
    run(m, (4150, -900), (4150, 1200), 'GW-1 100 dia', (4210, 800))
    run(m, (2000, -900), (2000, 1200), 'GW-2 50 dia', (2060, 800))
    return [pen(4150, 107.5, 215, [100], ['GW-1']), pen(2000, 107.5, 215, [50], ['GW-2'])]


@case()
def doorways_stay_doorways(doc, m):
    """Gaps for people and light: a cased opening without a leaf, a door, a window with glass."""
    layer(doc, 'A-WALL', 'A-DOOR', 'A-GLAZ', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (2000, 100), 200)
    wall(m, (3000, 100), (5000, 100), 200)
    wall(m, (5800, 100), (8000, 100), 200)
    wall(m, (8450, 100), (11000, 100), 200)
    m.add_arc((5000, 200), 800, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    line(m, (5000, 200), (5000, 1000), 'A-DOOR')
    for y in (0, 90, 110, 200):
        line(m, (8000, y), (8450, y), 'A-GLAZ')
    for x in (2500, 5400, 8225):
        run(m, (x, -900), (x, 1200), None)
    run(m, (9500, -900), (9500, 1200), 'DW-1 50 dia', (9560, 800))
    return [pen(9500, 100, 200, [50], ['DW-1'])]


@case('R12')
def old_polylines(doc, m):
    """R12: walls and services as POLYLINE with VERTEX records, one of them in three dimensions."""
    basics(doc)
    m.add_polyline2d([(0, 0), (6000, 0), (6000, 200), (0, 200)], close=True, dxfattribs={'layer': 'A-WALL'})
    m.add_polyline2d([(1000, -900), (1000, 1200)], dxfattribs={'layer': 'E-CNDT'})
    text(m, 'OP-1 50 dia', (1060, 800))
    m.add_polyline3d([(3000, -900, 2700), (3000, 1200, 2700)], dxfattribs={'layer': 'E-CNDT'})
    text(m, 'OP-2 50 dia', (3060, 800))
    return [pen(1000, 100, 200, [50], ['OP-1']), pen(3000, 100, 200, [50], ['OP-2'])]


@case()
def stray_elevations(doc, m):
    """A plan whose lines lie at odd heights is still a plan."""
    basics(doc)
    for z, y in ((0, 0), (3000, 200)):
        m.add_line((0, y, z), (6000, y, z), dxfattribs={'layer': 'A-WALL'})
    m.add_line((2000, -900, 2400), (2000, 1200, 2400), dxfattribs={'layer': 'E-CNDT'})
    text(m, 'SE-1 50 dia', (2060, 800))
    return [pen(2000, 100, 200, [50], ['SE-1'])]


@case()
def faces_drawn_twice(doc, m):
    """Every line of the wall twice, one of them a hair off, and an outline on top."""
    basics(doc)
    for dy in (0, 0.2):
        line(m, (0, dy), (6000, dy), 'A-WALL')
        line(m, (0, 200 - dy), (6000, 200 - dy), 'A-WALL')
    outline(m, [(0, 0), (6000, 0), (6000, 200), (0, 200)])
    run(m, (2000, -900), (2000, 1200), 'FT-1 50 dia', (2060, 800))
    return [pen(2000, 100, 200, [50], ['FT-1'])]


@case()
def thin_and_thick(doc, m):
    """A partition of 75 and a retaining wall of 600."""
    basics(doc)
    wall(m, (0, 37.5), (5000, 37.5), 75)
    wall(m, (0, 3300), (5000, 3300), 600)
    run(m, (1000, -900), (1000, 1000), 'TK-1 25 dia', (1060, 600))
    run(m, (2000, 2300), (2000, 4500), 'TK-2 150 dia', (2060, 4000))
    return [pen(1000, 37.5, 75, [25], ['TK-1']), pen(2000, 3300, 600, [150], ['TK-2'])]


@case()
def building_with_rooms(doc, m):
    """Four outer walls and a partition between rooms, all from trimmed lines; a run through three."""
    basics(doc)
    outer, inner, part = 300, 100, 4000
    outline(m, [(0, 0), (9000, 0), (9000, 6000), (0, 6000)])
    outline(m, [(outer, outer), (part, outer), (part, 6000 - outer), (outer, 6000 - outer)])
    outline(m, [(part + inner, outer), (9000 - outer, outer), (9000 - outer, 6000 - outer), (part + inner, 6000 - outer)])
    run(m, (-1000, 3000), (10000, 3000), 'BR-1 80 dia', (2000, 3060))
    run(m, (6000, -1000), (6000, 1500), 'BR-2 40 dia', (6060, 900))
    return [pen(150, 3000, 300, [80], ['BR-1']), pen(4050, 3000, 100, [80], ['BR-1']),
            pen(8850, 3000, 300, [80], ['BR-1']), pen(6000, 150, 300, [40], ['BR-2'])]


@case('R2010')
def closed_multiline_room(doc, m):
    """A room as one closed multiline, justified to its top line."""
    basics(doc)
    style = doc.mline_styles.new('W300')
    style.elements.append(0.5, 256)
    style.elements.append(-0.5, 256)
    m.add_mline([(0, 0), (6000, 0), (6000, 4000), (0, 4000)], close=True, dxfattribs={
        'layer': 'A-WALL', 'style_name': 'W300', 'scale_factor': 300, 'justification': 1})
    run(m, (3000, -1000), (3000, 1200), 'CM-1 63 dia', (3060, 800))
    run(m, (5000, 2000), (7200, 2000), 'CM-2 63 dia', (6400, 2060))
    return [pen(3000, 0, 300, [63], ['CM-1']), pen(6000, 2000, 300, [63], ['CM-2'])]


@case()
def slanting_walls(doc, m):
    """Walls at 30 and at 63.4 degrees, runs square to them and level."""
    basics(doc)
    c, s = math.cos(math.radians(30)), math.sin(math.radians(30))
    wall(m, (0, 0), (6000 * c, 6000 * s), 200)
    mid = (3000 * c, 3000 * s)
    run(m, (mid[0] + 1200 * s, mid[1] - 1200 * c), (mid[0] - 1200 * s, mid[1] + 1200 * c), 'SW-1 70 dia',
        (mid[0] - 900 * s + 60, mid[1] + 900 * c + 60))
    wall(m, (8000, 0), (10000, 4000), 250)
    run(m, (7500, 2000), (10500, 2000), 'SW-2 70 dia', (9500, 2060))
    return [pen(*mid, 200, [70], ['SW-1']), pen(9000, 2000, 250, [70], ['SW-2'])]


@case()
def columns_and_rooms_are_no_walls(doc, m):
    """A square column on the wall layer, a room outline on an area layer, grid lines, dimensions."""
    layer(doc, 'A-WALL', 'A-AREA', 'A-GRID', 'S-COLS', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 100), (9000, 100), 200)
    outline(m, [(0, 200), (9000, 200), (9000, 5000), (0, 5000)], 'A-AREA')
    outline(m, [(4000, 2000), (4400, 2000), (4400, 2400), (4000, 2400)], 'S-COLS')
    for x in (1000, 5000):
        line(m, (x, -2000), (x, 7000), 'A-GRID')
    run(m, (3000, -900), (3000, 6000), 'CR-1 50 dia', (3060, 800))
    return [pen(3000, 100, 200, [50], ['CR-1'])]


@case()
def insulated_sandwich(doc, m):
    """Outer leaf 100, cavity with insulation 100, inner leaf 140, plaster 15 on the inside."""
    basics(doc)
    for y in (0, 100, 200, 340, 355):
        line(m, (0, y), (7000, y), 'A-WALL')
    run(m, (3000, -900), (3000, 1300), 'IS-1 110 dia', (3060, 900))
    return [pen(3000, 177.5, 355, [110], ['IS-1'], hosts=[100, 155])]


@case()
def opening_in_a_curved_wall(doc, m):
    """Round chamber wall with a sleeve drawn as a gap of its own layer, turned with the wall."""
    layer(doc, 'A-WALL', 'A-OPNG', 'E-CNDT', 'E-TEXT')
    for r in (3000, 3250):
        m.add_arc((0, 0), r, 0, 180, dxfattribs={'layer': 'A-WALL'})
    c, s = math.cos(math.radians(60)), math.sin(math.radians(60))

    def at(along, across):
        return (along * c - across * s, along * s + across * c)
    outline(m, [at(3000, -150), at(3250, -150), at(3250, 150), at(3000, 150)], 'A-OPNG')
    text(m, 'OC-1 300x300', at(3900, 300))
    line(m, at(2200, 0), at(4200, 0), 'E-CNDT')
    text(m, 'C-1 100 dia', at(3500, -450))
    return [pen(*at(3125, 0), 250, [100], ['C-1', 'OC-1'], shape=[300, 300], kind='opening')]


@case()
def walls_of_solid_rectangles(doc, m):
    """A building as an analysis program writes it: 3DFACE strips and SOLIDs."""
    basics(doc)
    m.add_3dface([(0, 0, 0), (6000, 0, 0), (6000, 200, 0), (0, 200, 0)], dxfattribs={'layer': 'A-WALL'})
    m.add_solid([(0, 200), (200, 200), (0, 4000), (200, 4000)], dxfattribs={'layer': 'A-WALL'})
    run(m, (3000, -900), (3000, 1200), 'SR-1 50 dia', (3060, 800))
    run(m, (-900, 2500), (1200, 2500), 'SR-2 50 dia', (400, 2560))
    return [pen(3000, 100, 200, [50], ['SR-1']), pen(100, 2500, 200, [50], ['SR-2'])]


@case()
def far_from_the_origin_in_metres_said_as_mm(doc, m):
    """The file says millimetres; walls 0.2 and a door leaf of 0.9 say metres."""
    layer(doc, 'A-WALL', 'A-DOOR', 'E-CNDT', 'E-TEXT')
    wall(m, (0, 0.1), (4, 0.1), 0.2)
    wall(m, (4.9, 0.1), (12, 0.1), 0.2)
    wall(m, (0.1, 0.2), (0.1, 8), 0.2)
    wall(m, (11.9, 0.2), (11.9, 8), 0.2)
    m.add_arc((4, 0.2), 0.9, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    m.add_arc((8, 3), 0.9, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    line(m, (3, -1), (3, 1), 'E-CNDT')
    text(m, 'WU-1 150 dia', (3.05, 0.5), height=0.15)
    return [pen(3000, 100, 200, [150], ['WU-1'])]


@case()
def wall_with_a_recess(doc, m):
    """A thick wall with a niche: through the niche the wall is thinner."""
    basics(doc)
    outline(m, [(0, 0), (6000, 0), (6000, 400), (4000, 400), (4000, 200), (3000, 200), (3000, 400), (0, 400)])
    run(m, (1000, -900), (1000, 1400), 'NI-1 50 dia', (1060, 1000))
    run(m, (3500, -900), (3500, 1400), 'NI-2 50 dia', (3560, 1000))
    return [pen(1000, 200, 400, [50], ['NI-1']), pen(3500, 100, 200, [50], ['NI-2'])]
