"""Frames that more than one test of strength uses: a beam held flat, a hoop, a portal, a hoop house."""

from gardenframe.geometry.frame import Frame, Joint, Run, Support


def beam(spans_m, held, member="emt-1"):
    """Return a straight run along x through joints A, B, C ... each held by the letters given for it."""
    names = [chr(ord("A") + i) for i in range(len(spans_m) + 1)]
    places = [sum(spans_m[:i]) for i in range(len(names))]
    joints = [Joint(name, x, 0.0, 0.0) for name, x in zip(names, places, strict=True)]
    supports = [Support(joint=n, base="foot", held=letters) for n, letters in zip(names, held, strict=True) if letters]
    return Frame.of(joints, [Run(key="beam", member=member, path=tuple(names))], supports)


def hoop(radius_m, member="emt-3/4", held="xyzXZ", more=(), flat=False):
    """Return a semicircular hoop in the plane y = 0 from A to B with joint T at the crown.

    `more` are angles from A in degrees of further joints; where `flat`, all of them are kept in the plane.
    """
    import math

    joints = [Joint("A", -radius_m, 0, 0), Joint("P", -radius_m, 0, radius_m), Joint("T", 0, 0, radius_m)]
    joints += [Joint("Q", radius_m, 0, radius_m), Joint("B", radius_m, 0, 0)]
    extra = []
    for i, angle in enumerate(more):
        t = math.radians(angle)
        extra.append(Joint(f"N{i}", -radius_m * math.cos(t), 0, radius_m * math.sin(t)))
    run = Run(
        key="hoop",
        member=member,
        path=("A", "P", "Q", "B"),
        bend_radius_m=radius_m,
        also=("T", *(joint.key for joint in extra)),
        role="hoop",
    )
    supports = [Support(joint="A", base="foot", held=held), Support(joint="B", base="foot", held=held)]
    if flat:
        supports += [Support(joint=joint.key, base="guide", held="yXZ") for joint in (*extra, joints[2])]
    return Frame.of([*joints, *extra], [run], supports)


def portal(span_m, height_m, held, member="emt-1"):
    """Return a portal A (foot), B, C, D (foot) in the plane y = 0, rigid at the corners, kept in its plane."""
    joints = [
        Joint("A", 0, 0, 0),
        Joint("B", 0, 0, height_m),
        Joint("C", span_m, 0, height_m),
        Joint("D", span_m, 0, 0),
    ]
    runs = [
        Run(key=key, member=member, path=path)
        for key, path in (("left", ("A", "B")), ("top", ("B", "C")), ("right", ("D", "C")))
    ]
    supports = [Support(joint=j, base="foot", held=held) for j in ("A", "D")]
    supports += [Support(joint=j, base="guide", held="yXZ") for j in ("B", "C")]
    return Frame.of(joints, runs, supports)


def hoop_house(hoops=7, radius_m=1.5, spacing_m=1.2, purlins=(30, 60, 90, 120, 150), member="emt-1", held="xyz"):
    """Return a tunnel of semicircular hoops with purlins that pass under each, straight on its axis."""
    import math

    joints, runs, supports = [], [], []
    for i in range(hoops):
        y = i * spacing_m
        joints += [Joint(f"A{i}", -radius_m, y, 0), Joint(f"P{i}", -radius_m, y, radius_m)]
        joints += [Joint(f"Q{i}", radius_m, y, radius_m), Joint(f"B{i}", radius_m, y, 0)]
        on = []
        for k, angle in enumerate(purlins):
            t = math.radians(angle)
            joints.append(Joint(f"J{i}-{k}", -radius_m * math.cos(t), y, radius_m * math.sin(t)))
            on.append(f"J{i}-{k}")
        path = (f"A{i}", f"P{i}", f"Q{i}", f"B{i}")
        runs.append(Run(key=f"hoop {i}", member=member, path=path, bend_radius_m=radius_m, also=tuple(on), role="hoop"))
        supports += [Support(joint=f"{end}{i}", base="stake", held=held) for end in "AB"]
    for k in range(len(purlins)):
        path = tuple(f"J{i}-{k}" for i in range(hoops))
        runs.append(Run(key=f"purlin {k}", member=member, path=path, role="purlin"))
    return Frame.of(joints, runs, supports)
