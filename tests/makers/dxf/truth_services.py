"""Truth drawings of services, blocks, labels and layers."""
import math

from ezdxf.math import Vec3

from truth_tools import case, layer, line, outline, pen, text, wall
from truth_walls import run


def plan(doc, m, length=12000, thickness=200, on='A-WALL', *layers):
    layer(doc, on, 'E-TEXT', *layers)
    wall(m, (0, thickness / 2), (length, thickness / 2), thickness, on)


# --- how services are drawn --------------------------------------------------------------------

@case()
def tray_at_thirty_degrees(doc, m):
    """A tray by two edges that crosses at 30 degrees to the wall's normal."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CABL-TRAY')
    c, s = math.cos(math.radians(60)), math.sin(math.radians(60))
    for off in (-150, 150):
        ox, oy = -s * off, c * off
        line(m, (5000 - 2000 * c + ox, 100 - 2000 * s + oy), (5000 + 2000 * c + ox, 100 + 2000 * s + oy), 'E-CABL-TRAY')
    text(m, 'TK-7 300x60', (5000 + 1000 * c + 300, 100 + 1000 * s))
    return [pen(5000, 100, 200, [300, 60], ['TK-7'])]


@case()
def tray_as_wide_polyline(doc, m):
    """A tray as one polyline as wide as the tray; a pipe with a display width of 20."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CABL-TRAY', 'P-PIPE')
    m.add_lwpolyline([(3000, -1500), (3000, 1500)], dxfattribs={'layer': 'E-CABL-TRAY', 'const_width': 300})
    text(m, 'TW-1 300x50', (3250, 800))
    m.add_lwpolyline([(7000, -1500), (7000, 1500)], dxfattribs={'layer': 'P-PIPE', 'const_width': 20})
    text(m, 'TW-2 DN100', (7060, 800))
    return [pen(3000, 100, 200, [300, 50], ['TW-1']), pen(7000, 100, 200, [100], ['TW-2'])]


@case()
def tray_as_multiline(doc, m):
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CABL-TRAY')
    style = doc.mline_styles.new('TRAY')
    style.elements.append(0.5, 256)
    style.elements.append(-0.5, 256)
    m.add_mline([(4000, -1500), (4000, 1500)], dxfattribs={
        'layer': 'E-CABL-TRAY', 'style_name': 'TRAY', 'scale_factor': 450, 'justification': 1})
    text(m, 'TM-1 450x60', (4300, 800))
    return [pen(4000, 100, 200, [450, 60], ['TM-1'])]


@case()
def trays_with_a_width_only(doc, m):
    """A tray by two edges and the text "300 TRAY": its width is known, its height is not."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CABL-TRAY')
    for x in (4000, 4300):
        line(m, (x, -1500), (x, 1500), 'E-CABL-TRAY')
    text(m, '300 WIDE CABLE TRAY', (4150, 400), rotation=90)
    return [pen(4150, 100, 200)]


@case()
def three_trays_side_by_side(doc, m):
    """Three trays of 300 with 100 between them, each with its own label inside."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CABL-TRAY')
    for i, name in enumerate(('LV', 'ELV', 'FA')):
        x = 3000 + 400 * i
        for dx in (0, 300):
            line(m, (x + dx, -1500), (x + dx, 1500), 'E-CABL-TRAY')
        text(m, f'{name}-0{i + 1} 300x50', (x + 200, 400), rotation=90)
    return [pen(3150, 100, 200, [300, 50], ['LV-01']), pen(3550, 100, 200, [300, 50], ['ELV-02']),
            pen(3950, 100, 200, [300, 50], ['FA-03'])]


@case()
def cables_in_a_tray(doc, m):
    """A tray by its edges with three cables drawn in it: one hole, the tray carries the cables."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CABL-TRAY', 'E-CABL')
    for x in (4000, 4300):
        line(m, (x, -1500), (x, 1500), 'E-CABL-TRAY')
    for i, x in enumerate((4060, 4150, 4240)):
        line(m, (x, -1500), (x, 1500), 'E-CABL')
        text(m, f'W-{i + 1} 30 dia', (x - 5, 300 + 500 * i), height=40, rotation=90)
    m.add_leader([(4300, 1200), (4700, 1300)], dxfattribs={'layer': 'E-TEXT'})
    text(m, 'TC-4 300x50', (4720, 1270))
    return [pen(4150, 100, 200, None, ['TC-4', 'W-1', 'W-2', 'W-3'], count=4)]


@case()
def rectangular_duct_as_outline(doc, m):
    plan(doc, m, 12000, 200, 'A-WALL', 'M-DUCT')
    m.add_lwpolyline([(5000, -2000), (5800, -2000), (5800, 2500), (5000, 2500)], close=True, dxfattribs={'layer': 'M-DUCT'})
    line(m, (5000, -2000), (5800, 2500), 'M-DUCT-CNTR') if False else None
    text(m, '800x400', (5200, 1200), 'M-TEXT') if False else text(m, '800x400', (5200, 1200))
    return [pen(5400, 100, 200, [800, 400])]


@case()
def pieces_of_one_run(doc, m):
    """A run of six lines with a corner and a jog; two of the pieces cross walls."""
    plan(doc, m, 9000, 200, 'A-WALL', 'P-PIPE')
    wall(m, (9100, 0), (9100, 6000), 200)
    points = [(2000, -3000), (2000, -500), (2000, 1500), (4000, 1500), (4000, 3000), (7000, 3000), (11000, 3000)]
    for a, b in zip(points, points[1:]):
        line(m, a, b, 'P-PIPE')
    text(m, 'RUN-1 110 OD', (5000, 3060))
    return [pen(2000, 100, 200, [110], ['RUN-1']), pen(9100, 3000, 200, [110], ['RUN-1'])]


@case()
def tee_off_a_main(doc, m):
    """A main along the corridor, branches through the wall; each branch has its own size."""
    plan(doc, m, 12000, 200, 'A-WALL', 'P-PIPE')
    line(m, (-500, 1500), (12500, 1500), 'P-PIPE')
    text(m, 'MAIN DN150', (10000, 1560))
    for i, (x, size) in enumerate(((2000, 50), (5000, 80), (8000, 100))):
        line(m, (x, 1500), (x, -1500), 'P-PIPE')
        text(m, f'BR-{i + 1} DN{size}', (x + 60, -800))
    return [pen(2000, 100, 200, [50], ['BR-1']), pen(5000, 100, 200, [80], ['BR-2']), pen(8000, 100, 200, [100], ['BR-3'])]


@case()
def cast_in_circle_in_plan(doc, m):
    """Conduits that go up through the floor slab, drawn as circles in the slab's outline."""
    layer(doc, 'S-SLAB', 'E-CNDT', 'E-TEXT')
    outline(m, [(0, 0), (6000, 0), (6000, 4000), (0, 4000)], 'S-SLAB')
    for i in range(3):
        m.add_circle((2000 + i * 300, 2000), 25, dxfattribs={'layer': 'E-CNDT'})
    text(m, '3 no. 50 dia conduits CU-1 to CU-3', (2900, 2000))
    return [pen(2000 + i * 300, 2000, 0, [50], [f'CU-{i + 1}'], shape=[50], hosts=[0]) for i in range(3)]


@case()
def block_symbols_turned_mirrored_arrayed(doc, m):
    """A sleeve block with attributes: turned, mirrored, scaled and as an array."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CNDT')
    block = doc.blocks.new('SLV')
    block.add_lwpolyline([(-60, -100), (60, -100), (60, 100), (-60, 100)], close=True, dxfattribs={'layer': '0'})
    block.add_attdef('TAG', (80, 0), dxfattribs={'height': 60})
    block.add_attdef('DIA', (80, -80), dxfattribs={'height': 60})
    for x, tag, extra in ((1500, 'S-01', {'rotation': 180}), (3000, 'S-02', {'xscale': -1}),
                          (4500, 'S-03', {'yscale': -1, 'rotation': 180})):
        ref = m.add_blockref('SLV', (x, 100), dxfattribs={'layer': 'E-CNDT', **extra})
        ref.add_auto_attribs({'TAG': tag, 'DIA': '110'})
    ref = m.add_blockref('SLV', (7000, 100), dxfattribs={'layer': 'E-CNDT', 'column_count': 3, 'column_spacing': 1000})
    ref.add_auto_attribs({'TAG': 'S-04', 'DIA': '75'})
    return [pen(x, 100, 200, [110], [t]) for x, t in ((1500, 'S-01'), (3000, 'S-02'), (4500, 'S-03'))] + \
        [pen(7000 + 1000 * i, 100, 200, [75], ['S-04']) for i in range(3)]


@case()
def conduits_in_nested_block(doc, m):
    """Conduits two blocks deep, turned and mirrored, through a wall in the drawing itself."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CNDT')
    inner = doc.blocks.new('CND')
    inner.add_line((0, 0), (3000, 0), dxfattribs={'layer': 'E-CNDT'})
    outer = doc.blocks.new('PAIR')
    outer.add_blockref('CND', (0, 0))
    outer.add_blockref('CND', (0, 400))
    m.add_blockref('PAIR', (3000, -1500), dxfattribs={'rotation': 90})
    m.add_blockref('PAIR', (6000, -1500), dxfattribs={'rotation': 90, 'yscale': -1})
    text(m, 'NB-1 40 dia', (3040, 900))
    text(m, 'NB-2 50 dia', (2640, 500))
    text(m, 'NB-3 63 dia', (6040, 900))
    text(m, 'NB-4 75 dia', (6440, 500))
    return [pen(3000, 100, 200, [40], ['NB-1']), pen(2600, 100, 200, [50], ['NB-2']),
            pen(6000, 100, 200, [63], ['NB-3']), pen(6400, 100, 200, [75], ['NB-4'])]


@case()
def arrayed_conduits(doc, m):
    """Four conduits as one MINSERT."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CNDT')
    block = doc.blocks.new('C1')
    block.add_line((0, -1200), (0, 1500), dxfattribs={'layer': 'E-CNDT'})
    m.add_blockref('C1', (3000, 0), dxfattribs={'column_count': 4, 'column_spacing': 250})
    text(m, '4x50 dia', (3800, 900))
    return [pen(3375, 100, 200, [50], [], count=4)]


@case('R2018')
def mtext_codes(doc, m):
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CNDT', 'P-PIPE')
    for x, on, raw in ((2000, 'E-CNDT', r'{\fArial|b0|i0|c0|p34;\H100;\C1;MT-1}\P{\W0.8;\Oduct\o %%c110}'),
                       (5000, 'P-PIPE', r'\pxqc;MT-2\PDN\~150'),
                       (8000, 'E-CNDT', r'MT-3 \H0.7x;\S1/2;" dia')):
        line(m, (x, -1500), (x, 1500), on)
        m.add_mtext(raw, dxfattribs={'layer': 'E-TEXT', 'char_height': 100, 'insert': (x + 80, 900), 'attachment_point': 1})
    return [pen(2000, 100, 200, [110], ['MT-1']), pen(5000, 100, 200, [150], ['MT-2']), pen(8000, 100, 200, [12.7], ['MT-3'])]


@case('R2010')
def leaders_that_cross_other_runs(doc, m):
    """Five runs 150 apart; leaders from each to a column of texts, crossing the runs between."""
    plan(doc, m, 12000, 200, 'A-WALL', 'E-CNDT')
    for i in range(5):
        x = 3000 + 150 * i
        line(m, (x, -1500), (x, 2500), 'E-CNDT')
        y = 700 + 300 * i
        m.add_leader([(x, y), (4200, y + 100), (4300, y + 100)], dxfattribs={'layer': 'E-TEXT'})
        text(m, f'LX-{i + 1} {20 + 10 * i} dia', (4330, y + 50))
    return [pen(3000 + 150 * i, 100, 200, [20 + 10 * i], [f'LX-{i + 1}']) for i in range(5)]


@case()
def text_above_dense_rows(doc, m):
    """Level runs 400 apart through an upright wall; each text stands above its own line."""
    layer(doc, 'A-WALL', 'P-PIPE', 'P-TEXT')
    wall(m, (0, -1000), (0, 4000), 250)
    for i, size in enumerate((32, 40, 50, 63, 75, 90, 110)):
        y = 400 * i
        line(m, (-2500, y), (3000, y), 'P-PIPE')
        text(m, f'TD-{i + 1} {size} OD', (800, y + 40), 'P-TEXT', 150)
    return [pen(0, 400 * i, 250, [s], [f'TD-{i + 1}']) for i, s in enumerate((32, 40, 50, 63, 75, 90, 110))]


@case()
def not_through_at_all(doc, m):
    """In by one face and out by the same, along a face, stops 300 short, ends on the face."""
    plan(doc, m, 12000, 300, 'A-WALL', 'E-CNDT')
    m.add_lwpolyline([(1000, -900), (1000, 150), (2000, 150), (2000, -900)], dxfattribs={'layer': 'E-CNDT'})
    line(m, (3000, 300), (6000, 300), 'E-CNDT')
    line(m, (7000, -1500), (7000, -300), 'E-CNDT')
    line(m, (8000, 300), (8000, 1500), 'E-CNDT')
    line(m, (9000, 150), (9000, 1500), 'E-CNDT')
    return []


@case()
def grouped_by_opening_and_single(doc, m):
    """An opening outline round two trays and a pipe; a pipe beside it that is not in it."""
    plan(doc, m, 12000, 250, 'A-WALL', 'E-CABL-TRAY', 'P-PIPE', 'A-OPNG')
    outline(m, [(3000, 0), (4500, 0), (4500, 250), (3000, 250)], 'A-OPNG')
    text(m, 'BW-5 1500x400', (3100, -400))
    for x, name in ((3100, 'TA-1'), (3600, 'TA-2')):
        for dx in (0, 300):
            line(m, (x + dx, -1500), (x + dx, 1500), 'E-CABL-TRAY')
        text(m, f'{name} 300x60', (x + 200, 500), rotation=90)
    line(m, (4250, -1500), (4250, 1500), 'P-PIPE')
    text(m, 'PA-1 110 OD', (4240, 500), rotation=90)
    line(m, (5200, -1500), (5200, 1500), 'P-PIPE')
    text(m, 'PA-2 110 OD', (5190, 500), rotation=90)
    return [pen(3750, 125, 250, None, ['BW-5', 'TA-1', 'TA-2', 'PA-1'], count=3, shape=[1500, 400], kind='opening'),
            pen(5200, 125, 250, [110], ['PA-2'])]


# --- labels ------------------------------------------------------------------------------------

def label_case(label, size, refs, count, on, units, wall_thickness, scale):
    def make(doc, m):
        layer(doc, 'A-WALL', on)
        t = wall_thickness
        wall(m, (0, t / 2), (6000 / scale, t / 2), t)
        line(m, (2000 / scale, -1500 / scale), (2000 / scale, 1500 / scale), on)
        text(m, label, (2050 / scale, 700 / scale), '0', 100 / scale)
        return [pen(2000, t * scale / 2, t * scale, size, refs, count=count)]
    return make


METRIC = (
    ('DN100', [100], [], 1), ('NW 100', [100], [], 1), ('Ø110', [110], [], 1), ('∅ 110', [110], [], 1),
    ('⌀63 K-7', [63], ['K-7'], 1), ('4x100Ø', [100], [], 4), ('4 x 100 dia.', [100], [], 4), ('2/100mm', [100], [], 2),
    ('2/100', [100], [], 2), ('4 no. 100 ducts', [100], [], 4), ('4No 100mm dia ducts', [100], [], 4),
    ('6 Nr 150mm ducts', [150], [], 6), ('150x100', [150, 100], [], 1), ('150 x 100 mm', [150, 100], [], 1),
    ('100mm UPVC DUCT', [100], [], 1), ('110 OD HDPE', [110], [], 1), ('160 OD / 147 ID', [160], [], 1),
    ('4 KSR DN 110', [110], [], 4), ('3 Kabelschutzrohre DN100', [100], [], 3), ('2 Leerrohre M50', [50], [], 2),
    ('4 fourreaux TPC diam. 160', [160], [], 4), ('2 tubos PVC Ø63', [63], [], 2), ('3 rury DVK 110', [110], [], 3),
    ('6 stk. trekkerør Ø110', [110], [], 6), ('4 trekkerør 50mm', [50], [], 4), ('3 cavidotti Ø125', [125], [], 3),
    ('2 mantelbuizen Ø110', [110], [], 2), ('4 трубы Ø110', [110], [], 4), ('2 st. kabelskyddsrör Ø110', [110], [], 2),
    ('9 WAY 100 DIA DUCT BANK', [100], [], 9), ('D-05 (110 dia)', [110], ['D-05'], 1), ('3x40x160', None, [], 1),
    ('100 Ø SLEEVE S-12', [100], ['S-12'], 1), ('SLEEVE 160 DIA', [160], [], 1), ('Ø 110 mm, REF. C/12', [110], ['C/12'], 1),
    ('Ø32-K3', [32], ['K3'], 1), ('PE-HD 110x6,6', [110], [], 1), ('PEHD Ø110x6.6', [110], [], 1),
    ('HWS DN 65', [65], [], 1), ('CW-01 DN 80', [80], ['CW-01'], 1),
    ('4x100mmØ DUCTS', [100], [], 4), ('(4) 100mm CONDUITS', [100], [], 4), ('1 No. 150Ø', [150], [], 1),
    ('2No. 54mm COPPER', [54], [], 2), ('M25 CONDUIT', [25], [], 1), ('PIPE 4', None, [], 1),
)
for _i, (_label, _size, _refs, _count) in enumerate(METRIC):
    if _size is None:
        continue
    case('R2010', name=f'metric-label-{_i + 1}')(label_case(_label, _size, _refs, _count, 'E-CNDT', 4, 200, 1))

IN = 25.4
IMPERIAL = (
    ('4"', [101.6], [], 1), ('4 1/2"', [114.3], [], 1), ('4-1/2" DIA', [114.3], [], 1), ('(2) 4"C', [101.6], [], 2),
    ('(4) - 4" PVC', [101.6], [], 4), ('4-4"C', [101.6], [], 4), ('2-3/4" C', [69.85], [], 1), ('1 1/2" RGS', [38.1], [], 1),
    ('3/4"C', [19.05], [], 1), ('2" CONDUIT C-101', [50.8], ['C-101'], 1), ('24"x12" SA', [609.6, 304.8], [], 1),
    ('24x12', [609.6, 304.8], [], 1), ('24"W x 4"H TRAY CT-1', [609.6, 101.6], ['CT-1'], 1), ('2\'-0" x 1\'-0"', [609.6, 304.8], [], 1),
    ('6" DIA. SLEEVE', [152.4], [], 1), ('4 INCH CONDUIT', [101.6], [], 1), ('2EA 4" CONDUITS', [101.6], [], 2),
    ('1\'-6" DIA', [457.2], [], 1), ('6"Ø', [152.4], [], 1), ('Ø6"', [152.4], [], 1), ('4 x 5" CONDUITS', [127], [], 4),
    ('TWO 4" CONDUITS', [101.6], [], 2), ('2 1/2"Ø CHWS', [63.5], [], 1),
)
for _i, (_label, _size, _refs, _count) in enumerate(IMPERIAL):
    case('R2010', 1, name=f'imperial-label-{_i + 1}')(label_case(
        _label, _size, _refs, _count, 'E-CNDT', 1, 8, IN))


@case('R2010', 2)
def feet(doc, m):
    """A site plan in feet: walls one foot thick, pipes named in inches."""
    layer(doc, 'S-WALL', 'P-PIPE', 'P-TEXT')
    wall(m, (0, 0.5), (40, 0.5), 1, 'S-WALL')
    wall(m, (0.5, 1), (0.5, 30), 1, 'S-WALL')
    line(m, (10, -4), (10, 5), 'P-PIPE')
    text(m, 'P-1 8" DIA', (10.2, 2.5), 'P-TEXT', 0.5)
    line(m, (-4, 15), (5, 15), 'P-PIPE')
    text(m, 'P-2 6"', (2, 15.2), 'P-TEXT', 0.5)
    return [pen(3048, 152.4, 304.8, [203.2], ['P-1']), pen(152.4, 4572, 304.8, [152.4], ['P-2'])]


@case('R2010', 4)
def inches_said_as_millimetres(doc, m):
    """Walls 8 thick, doors 36, texts 9 high: inches, though the file says millimetres."""
    layer(doc, 'A-WALL', 'A-DOOR', 'P-PIPE', 'P-TEXT')
    wall(m, (0, 4), (200, 4), 8)
    wall(m, (236, 4), (480, 4), 8)
    wall(m, (4, 8), (4, 360), 8)
    wall(m, (476, 8), (476, 360), 8)
    m.add_arc((200, 8), 36, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    m.add_arc((300, 100), 32, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    line(m, (100, -50), (100, 60), 'P-PIPE')
    text(m, 'P-3 4" DIA', (102, 30), 'P-TEXT', 9)
    return [pen(2540, 101.6, 203.2, [101.6], ['P-3'])]


# --- layers ------------------------------------------------------------------------------------

def layers_case(wall_layer, service_layer):
    def make(doc, m):
        layer(doc, wall_layer, service_layer)
        wall(m, (0, 100), (6000, 100), 200, wall_layer)
        wall(m, (100, 200), (100, 4000), 200, wall_layer)
        run(m, (2000, -1500), (2000, 1500), 'Z-1 50 dia', (2050, 700), service_layer)
        run(m, (-900, 2000), (1500, 2000), 'Z-2 50 dia', (400, 2050), service_layer)
        return [pen(2000, 100, 200, [50], ['Z-1']), pen(100, 2000, 200, [50], ['Z-2'])]
    return make


for _i, (_w, _s, _v) in enumerate((
        ('A_WAND', 'E_Leerrohre', 'R2010'), ('TRAGENDE WÄNDE', 'ELT-Kabelrinne', 'R2010'),
        ('STB-Wand', 'Sanitär Rohrleitung', 'R2018'), ('Mauerwerk', 'Lüftungskanal', 'R2007'),
        ('ARC_Murs', 'ELE_Chemin de câbles', 'R2010'), ('CLOISONS', 'Fourreaux', 'R2010'),
        ('GO-Voiles BA', 'PLB-Tuyauterie', 'R2010'), ('ARQ-MUROS', 'ELEC-BANDEJAS', 'R2010'),
        ('Tabiques', 'Conductos', 'R2010'), ('Paredes', 'Eletrodutos', 'R2010'),
        ('ŚCIANY NOŚNE', 'KORYTA KABLOWE', 'R2010'), ('Ściany działowe', 'Rury', 'R2010'),
        ('VEGGER', 'Kabelbro', 'R2010'), ('Yttervegg', 'Trekkerør', 'R2010'),
        ('Väggar', 'Kabelstege', 'R2010'), ('MURI', 'Canalina', 'R2010'), ('Pareti', 'Tubazioni', 'R2010'),
        ('Binnenmuren', 'Kabelgoten', 'R2010'), ('Wanden', 'Leidingen', 'R2010'), ('Seinät', 'Kaapelihylly', 'R2010'),
        ('Stěny', 'Kabelový žlab', 'R2010'), ('Duvarlar', 'Kablo', 'R2010'),
        ('I-WALL', 'E-LITE-CIRC', 'R2010'), ('A-WALL-PRHT', 'E-LITE', 'R2010'), ('S-WALL-CONC', 'E-UNDR', 'R2010'),
        ('A-WALL-EXST', 'P-DOMW-CPIP', 'R2010'), ('S_CONC_WALL', 'C-SSWR-PIPE', 'R2010'), ('WALLS', 'PIPES', 'R2010'),
        ('Walls-External', 'Cable Tray', 'R2010'), ('Ar-Wall', 'Me-Duct-Supply', 'R2010'),
        ('A-G251-M_ExtWalls', 'E-G551-M_CableTray', 'R2010'), ('Z-Ss_25_10_30-M', 'E-Ss_70_30_45-M', 'R2010'),
        ('S-EF_25_10-M', 'P-EF_55_70-M', 'R2010'), ('A210___M_WALLS', 'E610___M_CABLES', 'R2010'),
        ('Retaining wall', 'Underground ducts', 'R2010'), ('A-FIRE-WALL', 'E-FIRE-CONDUIT', 'R2010'))):
    case(_v, name=f'more-layers-{_i + 1}')(layers_case(_w, _s))


@case('R12')
def layers_of_r12_with_code_page(doc, m):
    """R12 knows no Unicode: names and texts in the code page of Central Europe."""
    doc.header['$DWGCODEPAGE'] = 'ANSI_1250'
    doc.encoding = 'cp1250'
    return layers_case('ŚCIANY', 'RURY')(doc, m)


@case('R2010')
def frozen_wall_and_layer_not_plotted(doc, m):
    """A frozen wall and a conduit on a layer that does not plot."""
    layer(doc, 'A-WALL', 'A-WALL-DEMO', 'E-CNDT', 'E-CABL', 'E-TEXT')
    doc.layers.get('E-CABL').dxf.plot = 0
    layer(doc, 'S-WALL')
    doc.layers.get('S-WALL').freeze()
    wall(m, (0, 100), (9000, 100), 200)
    wall(m, (0, 3100), (9000, 3100), 200, 'S-WALL')
    run(m, (2000, -900), (2000, 4000), 'FR-1 50 dia', (2060, 800))
    run(m, (6000, -900), (6000, 900), 'FR-2 32 dia', (6060, 500), 'E-CABL')
    return [pen(2000, 100, 200, [50], ['FR-1']), pen(6000, 100, 200, [32], ['FR-2'])]


@case('R2010')
def drawing_with_sheet(doc, m):
    """Model space with the plan, a sheet with a viewport, a frame and title block in paper space."""
    plan(doc, m, 9000, 200, 'A-WALL', 'E-CNDT')
    run(m, (2000, -900), (2000, 1200), 'PS-1 50 dia', (2060, 800))
    sheet = doc.layout('Layout1')
    sheet.add_viewport(center=(200, 150), size=(300, 200), view_center_point=(4500, 0), view_height=10000)
    sheet.add_lwpolyline([(0, 0), (420, 0), (420, 297), (0, 297)], close=True, dxfattribs={'layer': 'A-WALL'})
    sheet.add_line((10, 10), (100, 10), dxfattribs={'layer': 'E-CNDT'})
    sheet.add_text('PLAN 1:50', dxfattribs={'height': 5})
    return [pen(2000, 100, 200, [50], ['PS-1'])]


@case('R2010')
def attached_reference_is_missing(doc, m):
    """The walls stand in the drawing, an attached reference does not: what is there is found."""
    plan(doc, m, 9000, 200, 'A-WALL', 'E-CNDT')
    run(m, (2000, -900), (2000, 1200), 'XM-1 50 dia', (2060, 800))
    doc.add_xref_def('structure.dwg', 'STRUCT')
    m.add_blockref('STRUCT', (0, 0))
    return [pen(2000, 100, 200, [50], ['XM-1'])]


@case('R2004')
def bound_reference(doc, m):
    """References bound into the drawing: names with $0$, in blocks."""
    for name, on in (('ARCH', 'ARCH$0$A-WALL'), ('ELEC', 'ELEC$0$E-CNDT')):
        layer(doc, on)
        block = doc.blocks.new(name)
        if name == 'ARCH':
            wall(block, (0, 100), (9000, 100), 200, on)
        else:
            line(block, (2000, -900), (2000, 1200), on)
            text(block, 'BX-1 50 dia', (2060, 800), on)
        m.add_blockref(name, (0, 0))
    return [pen(2000, 100, 200, [50], ['BX-1'])]


@case('R2010')
def bundle_named_by_reference_range(doc, m):
    """Six lines 130 apart, one label for all of them."""
    plan(doc, m, 12000, 300, 'S-WALL', 'E-DUCT')
    for i in range(6):
        line(m, (3000 + 130 * i, -1500), (3000 + 130 * i, 1500), 'E-DUCT')
    text(m, '6 x 110 dia ducts D-01 to D-06', (3800, 900))
    return [pen(3325, 150, 300, [110], [f'D-0{i + 1}' for i in range(6)], count=6)]
