"""Volume and centroid of random shapes by other libraries, and an audit of their DXF files.

    cargo run --example reference FOLDER > FOLDER/shapes.jsonl
    python shape_volumes.py FOLDER > shape_volumes.csv

A second argument of the example is another number of shapes; each line holds our own volume, "volume", beside the sizes.

Needs trimesh, manifold3d, shapely, numpy and ezdxf. Solids are meshes of 512 sides whose radii are set so that a
circle's area is right; they are within 3e-4 of the volume and 0.05 mm of the centroid.
"""
import glob, json, math, sys
import ezdxf, numpy, shapely, trimesh
from ezdxf import path as ezpath

SIDES = 512
FAT = 1 / math.sqrt(math.sin(2 * math.pi / SIDES) / (2 * math.pi / SIDES))


def revolved(points):
    """Points (x, r) from left to right; the axis is x."""
    line = [(0.0, points[0][0])] + [(max(r, 0.0) * FAT, x) for x, r in points] + [(0.0, points[-1][0])]
    clean = [line[0]]
    for p in line[1:]:
        if math.dist(p, clean[-1]) > 1e-9:
            clean.append(p)
    mesh = trimesh.creation.revolve(clean, sections=SIDES)
    mesh.merge_vertices()
    if mesh.volume < 0:
        mesh.invert()
    return mesh


def outside(shape):
    """The contour, feature by feature, as the machinist reads it."""
    segments, x, places = shape["outside"], 0.0, []
    for d, to, long, _, _ in segments:
        places.append([x, x + long, d / 2, to / 2])
        x += long
    pieces = [[[a, ra], [b, rb]] for a, b, ra, rb in places]
    for i, (_, _, _, chamfer, radius) in enumerate(segments):
        a, b, ra, rb = places[i]
        before = places[i - 1][3] if i else 0.0
        after = places[i + 1][2] if i + 1 < len(places) else 0.0
        if chamfer and before < ra - 1e-12:
            trim(pieces[i], a + chamfer, None, [[a, ra - chamfer], [a + chamfer, ra]])
        if chamfer and after < rb - 1e-12:
            trim(pieces[i], None, b - chamfer, [[b - chamfer, rb], [b, rb - chamfer]])
        if not radius:
            continue
        if i + 1 == len(places):
            arc = [[b - radius + radius * math.sin(t), rb - radius + radius * math.cos(t)] for t in quarter()]
            trim(pieces[i], None, b - radius, arc)
        elif rb <= after:
            arc = [[b - radius + radius * math.sin(t), rb + radius - radius * math.cos(t)] for t in quarter()]
            trim(pieces[i], None, b - radius, arc)
        else:
            low = after
            arc = [[b + radius - radius * math.cos(t), low + radius - radius * math.sin(t)] for t in quarter()]
            trim(pieces[i + 1], b + radius, None, arc)
    return [p for piece in pieces for p in piece], x


def quarter():
    return [math.pi / 2 * k / 48 for k in range(49)]


def at(piece, x, from_left=False):
    """The radius at x; at a step, the one to its right unless from the left."""
    xs, rs = [p[0] for p in piece], [p[1] for p in piece]
    if from_left:
        return float(numpy.interp(-x, [-v for v in reversed(xs)], list(reversed(rs))))
    return float(numpy.interp(x, xs, rs))


def trim(piece, start, end, new):
    if start is not None:
        kept = [[start, at(piece, start)]] + [p for p in piece if p[0] > start + 1e-12]
        piece[:] = new + kept
    else:
        kept = [p for p in piece if p[0] < end - 1e-12] + [[end, at(piece, end, from_left=True)]]
        piece[:] = kept + new


def cylinder(x0, x1, r):
    return revolved([(x0, r), (x1, r)])


def box(u, v, z):
    """Ranges along the axis (z of the mesh), across, and towards the cut (x of the mesh)."""
    mesh = trimesh.creation.box(extents=[v[1] - v[0], u[1] - u[0], z[1] - z[0]])
    mesh.apply_translation([(v[0] + v[1]) / 2, (u[0] + u[1]) / 2, (z[0] + z[1]) / 2])
    return mesh


def upright(d, at, low, high):
    """A cylinder across the axis, from low to high."""
    mesh = trimesh.creation.cylinder(radius=d / 2 * FAT, height=high - low, sections=SIDES)
    mesh.apply_transform(trimesh.transformations.rotation_matrix(math.pi / 2, [0, 1, 0]))
    mesh.apply_translation([(low + high) / 2, 0, at])
    return mesh


def minus(a, b):
    return trimesh.boolean.difference([a, b], engine="manifold")


def turned(shape):
    contour, length = outside(shape)
    # Grooves first: they belong to the contour, and keyways are measured from it.
    solid, big = revolved(contour), 500.0
    for cut in shape["across"]:
        if cut[0] == "groove":
            _, x, wide, d = cut
            ring = minus(cylinder(x, x + wide, big), cylinder(x - 1, x + wide + 1, d / 2))
            solid = minus(solid, ring)
    for side, d, deep in shape["bores"]:
        deep = deep or length
        a, b = (-1.0, deep) if side == "Left" else (length - deep, length + 1.0)
        b = length + 1 if deep >= length else b
        a = -1.0 if deep >= length else a
        solid = minus(solid, cylinder(a, b, d / 2))
    for cut in shape["across"]:
        if cut[0] == "hole":
            _, x, d, through = cut
            solid = minus(solid, upright(d, x, -big if through else 0.0, big))
        elif cut[0] == "keyway":
            _, x, wide, long, deep = cut
            middle = x + long / 2
            radius = at(contour, middle)
            for other in shape["across"]:
                if other[0] == "groove" and other[1] < middle < other[1] + other[2]:
                    radius = min(radius, other[3] / 2)
            floor, half = radius - deep, min(wide, long) / 2
            solid = minus(solid, box((-wide / 2, wide / 2), (floor, big), (x + half, x + long - half)))
            for end in (x + half, x + long - half):
                solid = minus(solid, upright(wide, end, floor, big))
        elif cut[0] == "flats":
            _, x, size, count, long = cut
            for k in range(count):
                slab = box((-big, big), (size / 2, big), (x, x + long))
                slab.apply_transform(trimesh.transformations.rotation_matrix(2 * math.pi * k / count, [0, 0, 1]))
                solid = minus(solid, slab)
    c = solid.center_mass
    return solid.volume, c[2], c[0], length


def corner_points(before, own, after, kind, size):
    before, own, after = map(numpy.array, (before, own, after))
    back, ahead = before - own, after - own
    back, ahead = back / numpy.linalg.norm(back), ahead / numpy.linalg.norm(ahead)
    if kind == "cut":
        return [own + back * size, own + ahead * size]
    half = math.acos(max(-1, min(1, float(back @ ahead)))) / 2
    bisector = (back + ahead) / numpy.linalg.norm(back + ahead)
    centre = own + bisector * size / math.sin(half)
    a, b = own + back * size / math.tan(half), own + ahead * size / math.tan(half)
    start = math.atan2(*(a - centre)[::-1])
    sweep = (math.atan2(*(b - centre)[::-1]) - start + math.pi) % (2 * math.pi) - math.pi
    return [centre + size * numpy.array([math.cos(start + sweep * k / 96), math.sin(start + sweep * k / 96)]) for k in range(97)]


def flat(shape):
    kind, data = shape["outline"]
    if kind == "disc":
        area = shapely.Point(0, 0).buffer(data / 2, quad_segs=512)
    else:
        points, n = [], len(data)
        for i, (x, y, (corner, size)) in enumerate(data):
            if corner:
                points += corner_points(data[i - 1][:2], [x, y], data[(i + 1) % n][:2], corner, size)
            else:
                points.append([x, y])
        area = shapely.Polygon(points)
        assert area.is_valid
    for hole in shape["holes"]:
        if hole[0] == "at":
            centres, d = [hole[2:4]], hole[1]
        else:
            _, d, pitch, count, first = hole
            angles = [first + 2 * math.pi * k / count for k in range(count)]
            centres = [[pitch / 2 * math.cos(a), pitch / 2 * math.sin(a)] for a in angles]
        for c in centres:
            area = area.difference(shapely.Point(c).buffer(d / 2, quad_segs=512))
    for wide, x0, y0, x1, y1 in shape["slots"]:
        area = area.difference(shapely.LineString([[x0, y0], [x1, y1]]).buffer(wide / 2, quad_segs=512))
    return area.area * shape["thick"], area.centroid.x, area.centroid.y, area


def dxf_errors(name):
    return len(ezdxf.readfile(name).audit().errors)


def dxf_area(name):
    """Area of the closed contours, openings deducted."""
    total = 0.0
    for entity in ezdxf.readfile(name).modelspace():
        points = [(p.x, p.y) for p in ezpath.make_path(entity).flattening(1e-4)]
        area = shapely.Polygon(points).area
        total += area if entity.dxf.layer == "OUTLINE" else -area
    return total


def main(folder):
    print("# trimesh %s with manifold3d, shapely %s, ezdxf %s; see shape_volumes.py" % (trimesh.__version__, shapely.__version__, ezdxf.__version__))
    print("seed,kind,volume_mm3,centroid_1_mm,centroid_2_mm,dxf_errors,dxf_area_mm2")
    for line in open(folder + "/shapes.jsonl"):
        shape = json.loads(line)
        seed = shape["seed"]
        is_flat = "thick" in shape
        volume, first, second, _ = flat(shape) if is_flat else turned(shape)
        profile = f"{folder}/profile-{seed}.dxf"
        errors = sum(dxf_errors(name) for name in [profile] + glob.glob(f"{folder}/drawing-{seed}.dxf"))
        print(f"{seed},{'flat' if is_flat else 'turned'},{volume:.3f},{first:.4f},{second:.4f},{errors},{dxf_area(profile):.3f}", flush=True)


main(sys.argv[1])
