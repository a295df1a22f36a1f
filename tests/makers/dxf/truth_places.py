"""Truth drawings of where things are: grids of plans, and rooms on both sides of a wall."""
from truth_tools import case, layer, line, outline, pen, text, wall
from truth_walls import run


def bubble(m, name, at, radius=400, on='S-GRID', letters='S-GRID-IDEN'):
    """A circle with a name in its middle."""
    m.add_circle(at, radius, dxfattribs={'layer': on})
    t = m.add_text(name, height=300, dxfattribs={'layer': letters})
    t.set_pos(at, align='MIDDLE_CENTER')


def grid(doc, m, across, up, on='S-GRID', letters='S-GRID-IDEN', radius=400, far=1500):
    """Lines up the page at `across`, with bubbles below, and along it at `up`, with bubbles on the left."""
    layer(doc, on, letters)
    low, left = min(up.values()) - far, min(across.values()) - far
    high, right = max(up.values()) + far, max(across.values()) + far
    for name, x in across.items():
        line(m, (x, low), (x, high), on)
        bubble(m, name, (x, low - radius), radius, on, letters)
    for name, y in up.items():
        line(m, (left, y), (right, y), on)
        bubble(m, name, (left - radius, y), radius, on, letters)


def box(m, a, b, thickness=200):
    """Four walls round a box, centre lines from corner a to corner b, outlines that overlap in the corners."""
    (x1, y1), (x2, y2) = a, b
    t = thickness / 2
    for p, q in (((x1 - t, y1), (x2 + t, y1)), ((x1 - t, y2), (x2 + t, y2)),
                 ((x1, y1 - t), (x1, y2 + t)), ((x2, y1 - t), (x2, y2 + t))):
        wall(m, p, q, thickness)


def basics(doc):
    layer(doc, 'A-WALL', 'E-CNDT', 'E-TEXT', 'A-AREA-IDEN')


@case()
def grid_with_bubbles(doc, m):
    """Three axes by two; a conduit beside each of two crossings, to either side of the axes."""
    basics(doc)
    wall(m, (-500, 0), (12500, 0), 200)
    grid(doc, m, {'1': 0, '2': 6000, '3': 12000}, {'A': 0, 'B': 7200})
    run(m, (1200, -900), (1200, 1100), 'GB-1 50 dia')
    run(m, (5650, -900), (5650, 1100), 'GB-2 50 dia')
    return [pen(1200, 0, 200, [50], ['GB-1'], grid='1/A +1200 +0'),
            pen(5650, 0, 200, [50], ['GB-2'], grid='2/A −350 +0')]


@case()
def grid_of_blocks_with_attributes(doc, m):
    """Bubbles as blocks whose attribute is the name; the layer's name is German, names have a point."""
    basics(doc)
    layer(doc, 'ACHSEN')
    head = doc.blocks.new('ACHSKOPF')
    head.add_circle((0, 0), 350)
    head.add_attdef('ACHSE', (0, 0), height=250)
    wall(m, (0, 3000), (9000, 3000), 240)

    def axis(a, b, at, name):
        line(m, a, b, 'ACHSEN')
        m.add_blockref('ACHSKOPF', at, dxfattribs={'layer': 'ACHSEN'}).add_auto_attribs({'ACHSE': name})

    axis((2000, -1000), (2000, 8000), (2000, 8350), 'C')
    axis((8000, -1000), (8000, 8000), (8000, 8350), 'C.1')
    axis((-1000, 1000), (10000, 1000), (-1350, 1000), '11')
    axis((-1000, 6000), (10000, 6000), (-1350, 6000), '12')
    run(m, (4500, 2000), (4500, 4000), 'AK-1 63 dia')
    return [pen(4500, 3000, 240, [63], ['AK-1'], grid='C/11 +2500 +2000')]


@case()
def grid_and_cut_marks(doc, m):
    """The mark of a cut is a circle with a letter at a line too, and no axis; nor is a line without a name."""
    basics(doc)
    layer(doc, 'A-ANNO-SECT', 'S-GRID')
    wall(m, (0, 0), (9000, 0), 200)
    grid(doc, m, {'4': 1000, '5': 8000}, {'D': -2000, 'E': 4000})
    line(m, (3100, -3000), (3100, 5000), 'A-ANNO-SECT')
    bubble(m, 'A', (3100, 5400), on='A-ANNO-SECT', letters='A-ANNO-SECT')
    line(m, (2900, -3000), (2900, 5000), 'S-GRID')
    run(m, (3000, -900), (3000, 1100), 'SM-1 40 dia')
    return [pen(3000, 0, 200, [40], ['SM-1'], grid='4/D +2000 +2000')]


@case(file={'views': [{'view': 'plan', 'level': 'L1', 'basePoint': [0, 0], 'atMm': [100000, 50000, 0]}]})
def grid_moved_to_its_place(doc, m):
    """A plan with a base point: the axes move with what it shows."""
    basics(doc)
    wall(m, (0, 0), (6000, 0), 200)
    grid(doc, m, {'1': 500, '2': 5500}, {'A': 0})
    run(m, (2000, -900), (2000, 1100), 'MV-1 40 dia')
    return [pen(102000, 50000, 200, [40], ['MV-1'], grid='1/A +1500 +0')]


def two_rooms(doc, m, door=True, names=True):
    """Two rooms side by side with a wall between them at x = 6000; a door in it, a window in the south wall."""
    basics(doc)
    layer(doc, 'A-DOOR', 'A-GLAZ')
    for y in (-100, 100):
        line(m, (-100, y), (2000, y), 'A-WALL')
        line(m, (3500, y), (12100, y), 'A-WALL')
    for x in (2000, 3500):
        line(m, (x, -100), (x, 100), 'A-WALL')
    line(m, (2000, 0), (3500, 0), 'A-GLAZ')
    wall(m, (-100, 5000), (12100, 5000), 200)
    wall(m, (0, -100), (0, 5100), 200)
    wall(m, (12000, -100), (12000, 5100), 200)
    if door:
        wall(m, (6000, 100), (6000, 1000), 200)
        wall(m, (6000, 1900), (6000, 4900), 200)
        line(m, (6100, 1000), (7000, 1000), 'A-DOOR')
        m.add_arc((6100, 1000), 900, 0, 90, dxfattribs={'layer': 'A-DOOR'})
    else:
        wall(m, (6000, 100), (6000, 4900), 200)
    if names:
        text(m, 'PUMP HALL', (1500, 3200), 'A-AREA-IDEN', 200)
        text(m, 'R.01', (1500, 2900), 'A-AREA-IDEN', 200)
        text(m, '28.4 m2', (1500, 2600), 'A-AREA-IDEN', 150)
        text(m, 'SWITCH ROOM', (8000, 3200), 'A-AREA-IDEN', 200)
        text(m, 'R.02', (8000, 2900), 'A-AREA-IDEN', 200)


@case()
def rooms_with_a_door_between(doc, m):
    """Near is before the wall along x; the room's stamp has a name, a number and an area."""
    two_rooms(doc, m)
    run(m, (5000, 4000), (7000, 4000), 'RM-1 50 dia', (5100, 4060))
    return [pen(6000, 4000, 200, [50], ['RM-1'], rooms=['PUMP HALL / R.01', 'SWITCH ROOM / R.02'])]


@case()
def rooms_and_the_outside(doc, m):
    """Through the outer walls: one side has no name, though a window and a door lead there."""
    two_rooms(doc, m)
    run(m, (11000, 2500), (13000, 2500), 'RO-1 50 dia', (11100, 2560))
    run(m, (4500, -900), (4500, 1100), 'RO-2 50 dia', (4560, 500))
    return [pen(12000, 2500, 200, [50], ['RO-1'], rooms=['SWITCH ROOM / R.02', None]),
            pen(4500, 0, 200, [50], ['RO-2'], rooms=[None, 'PUMP HALL / R.01'])]


@case()
def rooms_of_which_one_has_two_names(doc, m):
    """One room with two different stamps far apart: nobody can say which of them is meant."""
    two_rooms(doc, m, door=False, names=False)
    text(m, 'STORE', (800, 4200), 'A-AREA-IDEN', 200)
    text(m, 'WORKSHOP', (4000, 1000), 'A-AREA-IDEN', 200)
    text(m, 'OFFICE', (8000, 3200), 'A-AREA-IDEN', 200)
    run(m, (5000, 3000), (7000, 3000), 'RT-1 50 dia', (5100, 3060))
    return [pen(6000, 3000, 200, [50], ['RT-1'], rooms=[None, 'OFFICE'])]


@case()
def rooms_with_block_stamps(doc, m):
    """Stamps as blocks with attributes, thin partitions of 75 mm."""
    basics(doc)
    layer(doc, 'A-ROOM')
    stamp = doc.blocks.new('ROOM-STAMP')
    stamp.add_attdef('NUMBER', (0, 0), height=150)
    stamp.add_attdef('NAME', (0, -250), height=150)
    box(m, (0, 0), (9000, 4000))
    for x in (3000, 6000):
        wall(m, (x, 100), (x, 3900), 75)
    for x, number, name in ((1500, '101', 'CABLE ENTRY'), (4500, '102', 'BATTERY'), (7500, '103', 'CONTROL')):
        m.add_blockref('ROOM-STAMP', (x, 2600), dxfattribs={'layer': 'A-ROOM'}).add_auto_attribs(
            {'NUMBER': number, 'NAME': name})
    run(m, (2500, 800), (6500, 800), 'RB-1 32 dia', (4000, 860))
    return [pen(3000, 800, 75, [32], ['RB-1'], rooms=['101 / CABLE ENTRY', '102 / BATTERY']),
            pen(6000, 800, 75, [32], ['RB-1'], rooms=['102 / BATTERY', '103 / CONTROL'])]


@case()
def rooms_round_a_curved_wall(doc, m):
    """A round tank room in a hall: one name inside the ring, one outside of it."""
    basics(doc)
    box(m, (0, 0), (10000, 10000))
    for radius in (2000, 2200):
        m.add_circle((5000, 5000), radius, dxfattribs={'layer': 'A-WALL'})
    text(m, 'TANK', (4700, 5000), 'A-AREA-IDEN', 200)
    text(m, 'HALL', (800, 9000), 'A-AREA-IDEN', 200)
    run(m, (5000, 2000), (5000, 4000), 'RC-1 50 dia', (5060, 2300))
    return [pen(5000, 2900, 200, [50], ['RC-1'], rooms=['HALL', 'TANK'])]
