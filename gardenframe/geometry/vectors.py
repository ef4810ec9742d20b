"""Vectors in space as tuples of three floats: quicker than arrays for the few at a joint."""

import math

Vector = tuple[float, float, float]


def add(a: Vector, b: Vector) -> Vector:
    """Sum of two vectors."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def minus(a: Vector, b: Vector) -> Vector:
    """Vector from b to a."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def times(a: Vector, factor: float) -> Vector:
    """Vector stretched by a factor."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def size(a: Vector) -> float:
    """Length of a vector."""
    return math.sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """Vector of length one in the same direction."""
    return times(a, 1 / size(a))


def distance(a: Vector, b: Vector) -> float:
    """Distance between two points."""
    return size(minus(a, b))


def angle_deg(a: Vector, b: Vector) -> float:
    """Angle between two directions, 0 to 180. [deg]

    >>> round(angle_deg((1, 0, 0), (1, 1, 0)), 9)
    45.0
    """
    return math.degrees(math.atan2(size(cross(a, b)), dot(a, b)))


def turned(a: Vector, axis: Vector, angle_rad: float) -> Vector:
    """Vector turned about a unit axis by the right-hand rule (Rodrigues)."""
    c, s = math.cos(angle_rad), math.sin(angle_rad)
    return add(add(times(a, c), times(cross(axis, a), s)), times(axis, dot(axis, a) * (1 - c)))
