"""Truth drawings of sections and elevations, and of several views together."""
import math

from truth_tools import case, layer, line, outline, pen, text, wall


def elevation(doc, m, *layers, width=6000, height=3000, on='S-WALL'):
    layer(doc, on, 'E-TEXT', *layers)
    outline(m, [(0, 0), (width, 0), (width, height), (0, height)], on)


@case(file={'view': 'elevation'})
def bank_with_column_numbers(doc, m):
    """Three rows of four ducts, rows lettered and columns numbered at the edges."""
    elevation(doc, m, 'E-DUCT')
    for r in range(3):
        text(m, 'ABC'[r], (700, 1800 - 250 * r - 40), height=80)
        for c in range(4):
            m.add_circle((1000 + 250 * c, 1800 - 250 * r), 55, dxfattribs={'layer': 'E-DUCT'})
    for c in range(4):
        text(m, str(c + 1), (1000 + 250 * c - 30, 2000), height=80)
    text(m, '12 NO. 110 DIA DUCTS', (2200, 1600))
    return [pen(1000 + 250 * c, 0, 0, [110], None, z=1800 - 250 * r, shape=[110], hosts=[0])
            for r in range(3) for c in range(4)]


@case(file={'view': 'elevation'})
def cores_with_ducts(doc, m):
    """Cored holes on an opening layer, a duct in each; and one core without a duct."""
    elevation(doc, m, 'E-DUCT', 'S-OPNG')
    for x, name in ((1000, 'CH-1'), (2000, 'CH-2')):
        m.add_circle((x, 1500), 100, dxfattribs={'layer': 'S-OPNG'})
        m.add_circle((x, 1500), 55, dxfattribs={'layer': 'E-DUCT'})
        text(m, name, (x - 80, 1700), height=80)
    m.add_circle((3000, 1500), 76, dxfattribs={'layer': 'S-OPNG'})
    text(m, 'CH-3', (2920, 1700), height=80)
    return [pen(1000, 0, 0, [110], ['CH-1'], z=1500, shape=[200], hosts=[0], kind='opening'),
            pen(2000, 0, 0, [110], ['CH-2'], z=1500, shape=[200], hosts=[0], kind='opening'),
            pen(3000, 0, 0, None, ['CH-3'], z=1500, shape=[152], hosts=[0], count=0, kind='opening')]


@case(file={'view': 'elevation'})
def rectangles_and_circles(doc, m):
    """Openings of both shapes with pipes, a tray and a duct in them, each with its mark."""
    elevation(doc, m, 'E-CABL-TRAY', 'P-PIPE', 'M-DUCT', 'A-OPNG')
    outline(m, [(800, 1000), (1600, 1000), (1600, 1400), (800, 1400)], 'A-OPNG')
    outline(m, [(900, 1100), (1500, 1100), (1500, 1160), (900, 1160)], 'E-CABL-TRAY')
    m.add_circle((1000, 1280), 54, dxfattribs={'layer': 'P-PIPE'})
    text(m, 'OP-21', (800, 1450), height=80)
    outline(m, [(2500, 1000), (3300, 1000), (3300, 1600), (2500, 1600)], 'A-OPNG')
    outline(m, [(2600, 1100), (3200, 1100), (3200, 1500), (2600, 1500)], 'M-DUCT')
    text(m, 'OP-22', (2500, 1650), height=80)
    return [pen(1200, 0, 0, None, ['OP-21'], z=1200, count=2, shape=[800, 400], hosts=[0], kind='opening'),
            pen(2900, 0, 0, [600, 400], ['OP-22'], z=1300, count=1, shape=[800, 600], hosts=[0], kind='opening')]


@case(file={'view': 'section'})
def levels_from_level_marks(doc, m):
    """A section with level marks at both floors: heights follow them, not the drawing's own y."""
    layer(doc, 'S-SLAB', 'S-WALL', 'P-PIPE', 'A-ANNO-LEVL', 'P-TEXT')
    base = 5000
    outline(m, [(0, base - 200), (6000, base - 200), (6000, base), (0, base)], 'S-SLAB')
    outline(m, [(0, base + 2800), (6000, base + 2800), (6000, base + 3000), (0, base + 3000)], 'S-SLAB')
    outline(m, [(0, base), (300, base), (300, base + 2800), (0, base + 2800)], 'S-WALL')
    for y, label in ((base, 'FFL +3.500'), (base + 3000, 'FFL +6.500')):
        line(m, (6200, y), (7600, y), 'A-ANNO-LEVL')
        m.add_lwpolyline([(6400, y), (6300, y + 150), (6500, y + 150)], close=True, dxfattribs={'layer': 'A-ANNO-LEVL'})
        text(m, label, (6550, y + 60), 'A-ANNO-LEVL', 150)
    line(m, (-1000, base + 1200), (1500, base + 1200), 'P-PIPE')
    text(m, 'LM-1 110 OD', (500, base + 1260), 'P-TEXT')
    line(m, (3000, base + 1000), (3000, base + 4200), 'P-PIPE')
    text(m, 'LM-2 160 OD', (3060, base + 2000), 'P-TEXT')
    return [pen(150, 0, 300, [110], ['LM-1'], z=4700), pen(3000, 0, 200, [160], ['LM-2'], z=3500 + 2900)]


@case(file={'view': 'elevation'})
def datum_below_zero(doc, m):
    """An elevation of a chamber wall with levels in metres above datum, in three wordings."""
    elevation(doc, m, 'E-DUCT', 'S-ANNO')
    for y, label in ((0, 'FORMATION LEVEL -2.400m'), (1500, '-0.900'), (3000, 'TOS +0.600 m')):
        line(m, (6100, y), (7000, y), 'S-ANNO')
        text(m, label, (6200, y + 40), 'S-ANNO', 120)
    m.add_circle((2000, 1000), 80, dxfattribs={'layer': 'E-DUCT'})
    text(m, 'DB-1', (2120, 1000))
    return [pen(2000, 0, 0, [160], ['DB-1'], z=-1400, shape=[160], hosts=[0])]


@case(file={'view': 'section'})
def section_of_a_trench_wall(doc, m):
    """A wall cut through from line pairs and a raft; ducts drawn by both edges cross the wall."""
    layer(doc, 'S-WALL', 'S-SLAB', 'E-DUCT', 'E-TEXT')
    wall(m, (150, 0), (150, 3000), 300, 'S-WALL')
    outline(m, [(0, -400), (6000, -400), (6000, 0), (0, 0)], 'S-SLAB')
    for y, name in ((800, 'TW-1'), (1300, 'TW-2')):
        for dy in (-80, 80):
            line(m, (-2000, y + dy), (2500, y + dy), 'E-DUCT')
        text(m, f'{name} %%c160', (900, y + 110))
    return [pen(150, 0, 300, [160], ['TW-1'], z=800), pen(150, 0, 300, [160], ['TW-2'], z=1300)]


@case(file={'view': 'section'})
def duct_bank_block_with_frame(doc, m):
    """A bank of six ducts in its concrete, cut across; concrete as a closed hatch."""
    layer(doc, 'S-CONC', 'E-DUCT', 'E-TEXT')
    h = m.add_hatch(dxfattribs={'layer': 'S-CONC'})
    h.paths.add_polyline_path([(0, 0), (1200, 0), (1200, 800), (0, 800)], is_closed=True)
    for r in range(2):
        for c in range(3):
            m.add_circle((250 + 350 * c, 550 - 300 * r), 80, dxfattribs={'layer': 'E-DUCT'})
    text(m, '6 x 160 dia', (1300, 400))
    return [pen(250 + 350 * c, 0, 0, [160], [], z=550 - 300 * r, shape=[160], hosts=[0]) for r in range(2) for c in range(3)]


@case(file={'view': 'elevation'})
def sleeve_blocks_in_elevation(doc, m):
    """Sleeves as blocks with attributes, one turned, one mirrored, one scaled."""
    elevation(doc, m, 'P-PIPE')
    block = doc.blocks.new('SLEEVE2')
    block.add_circle((0, 0), 50, dxfattribs={'layer': '0'})
    block.add_attdef('MARK', (80, 0), dxfattribs={'height': 60})
    for x, mark, extra in ((1000, 'SB-1', {'rotation': 45}), (2000, 'SB-2', {'xscale': -1}),
                           (3000, 'SB-3', {'xscale': 1.5, 'yscale': 1.5})):
        ref = m.add_blockref('SLEEVE2', (x, 1500), dxfattribs={'layer': 'P-PIPE', **extra})
        ref.add_auto_attribs({'MARK': mark})
    return [pen(1000, 0, 0, [100], ['SB-1'], z=1500, hosts=[0]), pen(2000, 0, 0, [100], ['SB-2'], z=1500, hosts=[0]),
            pen(3000, 0, 0, [150], ['SB-3'], z=1500, hosts=[0])]


@case(file={'view': 'section'})
def section_titled_in_inches(doc, m):
    """A pit in inches: walls 12 thick, sleeves named in inches."""
    doc.header['$INSUNITS'] = 1
    layer(doc, 'S-WALL', 'P-PIPE', 'P-TEXT')
    outline(m, [(0, -120), (12, -120), (12, 0), (0, 0)], 'S-WALL')
    line(m, (-60, -60), (60, -60), 'P-PIPE')
    text(m, '8" DIP P-12', (20, -58), 'P-TEXT', 4)
    return [pen(152.4, 0, 304.8, [203.2], ['P-12'], z=-1524)]


@case(file={'views': [
    {'view': 'plan', 'name': 'Plan', 'window': [-2000, -2000, 8000, 4000], 'level': 'L1', 'elevationMm': 3500,
     'basePoint': [0, 0], 'atMm': [0, 0, 3500]},
    {'view': 'elevation', 'name': 'Wall', 'window': [-2000, 9000, 8000, 14000],
     'basePoint': [0, 10000], 'atMm': [0, 100, 3500]}]})
def plan_and_elevation(doc, m):
    """A wall in plan and its face in elevation: three openings, each once, with size from the face."""
    layer(doc, 'S-WALL', 'A-OPNG', 'E-CABL-TRAY', 'E-TEXT')
    wall(m, (3000, 100), (9000, 100), 200, 'S-WALL', caps=False) if False else wall(m, (0, 100), (6000, 100), 200, 'S-WALL')
    outline(m, [(0, 10000), (6000, 10000), (6000, 13000), (0, 13000)], 'S-WALL')
    for x, name in ((1000, 'PE-1'), (2500, 'PE-2'), (4000, 'PE-3')):
        outline(m, [(x - 200, 0), (x + 200, 0), (x + 200, 200), (x - 200, 200)], 'A-OPNG')
        text(m, name, (x - 100, 350))
        outline(m, [(x - 200, 11000), (x + 200, 11000), (x + 200, 11250), (x - 200, 11250)], 'A-OPNG')
        text(m, name, (x - 100, 11350))
    return [pen(x, 100, 200, None, [n], z=3500 + 1125, count=0, shape=[400, 250], kind='opening')
            for x, n in ((1000, 'PE-1'), (2500, 'PE-2'), (4000, 'PE-3'))]


@case(file={'view': 'section'})
def slab_edge_with_upstand(doc, m):
    """Slabs as pairs of lines, with a gap for a shaft; a riser in the shaft, another through the slab."""
    layer(doc, 'S-SLAB', 'P-PIPE', 'P-TEXT')
    for a, b in ((0, 3000), (4200, 8000)):
        for y in (0, 250):
            line(m, (a, y), (b, y), 'S-SLAB')
        line(m, (a, 0), (a, 250), 'S-SLAB')
        line(m, (b, 0), (b, 250), 'S-SLAB')
    line(m, (3600, -1500), (3600, 2000), 'P-PIPE')
    line(m, (5000, -1500), (5000, 2000), 'P-PIPE')
    text(m, 'SU-1 110 OD', (5060, 1000), 'P-TEXT')
    return [pen(5000, 0, 250, [110], ['SU-1'], z=125)]
