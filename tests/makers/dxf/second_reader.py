"""Second reader: what ezdxf sees in DXF files.

Usage: python3 second_reader.py FILE...
Prints JSON: for each file, entities of the ENTITIES section and of blocks counted by type and layer,
and the lines, circle and arc centres of model space with all blocks taken apart. Blocks are taken
apart by multiplying matrices: ezdxf 0.18.1's own explode swaps scale axes of a turned insert inside
one that is scaled unevenly.
"""
import json
import sys

import ezdxf
from ezdxf import recover
from ezdxf.math import Matrix44, Vec3

SUB = {'VERTEX', 'SEQEND', 'ATTRIB'}
DEEPEST = 16


def read(path):
    try:
        return ezdxf.readfile(path)
    except Exception:  # whatever the plain reader stumbles over, recover mode has a try
        try:
            return recover.readfile(path)[0]
        except Exception:
            return None


def layer_of(e):
    """Entities that ezdxf keeps as raw tags have no layer attribute; their tags have."""
    if hasattr(e, 'xtags'):
        for subclass in e.xtags.subclasses:
            for tag in subclass:
                if tag.code == 8:
                    return tag.value
        return '0'
    return e.dxf.get('layer', '0')


def count(layout, into):
    for e in layout:
        if e.dxftype() in SUB:
            continue
        key = f"{e.dxftype()}\n{layer_of(e)}"
        into[key] = into.get(key, 0) + 1


def even(m):
    """Length that the matrix gives to x and y, when it keeps circles seen from above."""
    x = m.transform_direction(Vec3(1, 0, 0))
    y = m.transform_direction(Vec3(0, 1, 0))
    a, b = Vec3(x.x, x.y, 0), Vec3(y.x, y.y, 0)
    if abs(a.magnitude - b.magnitude) > 1e-9 * a.magnitude or abs(a.dot(b)) > 1e-9 * a.magnitude ** 2:
        return None
    return a.magnitude


def explode(entities, m, depth, out):
    for e in entities:
        kind = e.dxftype()
        if kind == 'INSERT':
            block = e.block()
            if block is None or depth > DEEPEST:
                continue
            for single in (e.multi_insert() if e.mcount > 1 else [e]):
                explode(block, single.matrix44() * m, depth + 1, out)
        elif kind == 'LINE':
            a, b = m.transform(e.dxf.start), m.transform(e.dxf.end)
            if Vec3(a.x - b.x, a.y - b.y, 0).magnitude > 1e-9:
                out['lines'].append([a.x, a.y, b.x, b.y])
        elif kind in ('CIRCLE', 'ARC'):
            ocs = e.ocs()
            frame = Matrix44.ucs(ocs.ux, ocs.uy, ocs.uz) if ocs.transform else Matrix44()
            scale = even(frame * m)
            if scale is not None:
                c = m.transform(ocs.to_wcs(e.dxf.center))
                out['arcs'].append([c.x, c.y, e.dxf.radius * scale])
        elif kind == 'LWPOLYLINE':
            ocs = e.ocs()
            z = e.dxf.elevation
            points = [m.transform(ocs.to_wcs(Vec3(x, y, z))) for x, y in e.get_points('xy')]
            out['corners'].extend([p.x, p.y] for p in points)


def main(paths):
    result = {}
    for path in paths:
        doc = read(path)
        if doc is None:
            result[path] = None
            continue
        entities, blocks = {}, {}
        msp = doc.modelspace()
        count(msp, entities)
        active = doc.layouts.active_layout() if doc.dxfversion > 'AC1009' else doc.layout('Layout1')
        count(active, entities)
        for block in doc.blocks:
            name = block.name.lower()
            if name.startswith('*model_space') or name.startswith('$model_space'):
                continue
            if block.block_record_handle == active.block_record_handle:
                continue
            count(block, blocks)
        out = {'lines': [], 'arcs': [], 'corners': []}
        explode(msp, Matrix44(), 0, out)
        result[path] = {'entities': entities, 'blocks': blocks, **out}
    print(json.dumps(result, ensure_ascii=False))


if __name__ == '__main__':
    main(sys.argv[1:])
