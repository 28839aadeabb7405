"""Angles of the regular solids and of the mirror triangles, in degrees.

Source: Coxeter, Regular Polytopes, 3rd edition, table of phi, chi, psi (printed page from memory; the
formulas cos phi = cos(pi/p)/sin(pi/q), cos chi = cot(pi/p) cot(pi/q), cos psi = cos(pi/q)/sin(pi/p)
were worked out apart from this package).
"""

# division: (centre to triangle or other centre, centre to diamond, third side)
TRIANGLE_SIDES = {
    "C6": (54.7356103172, 54.7356103172, 70.5287793655),
    "C8": (35.2643896828, 45.0, 54.7356103172),
    "C10": (20.9051574479, 31.7174744115, 37.3773681406),
}
# (division, kind, kind): angle between neighbours, which are vertices of a regular solid or beside its faces and edges
NEIGHBOURS = {
    ("C10", "centre", "centre"): 63.4349488229,  # icosahedron
    ("C10", "triangle", "triangle"): 41.8103148958,  # dodecahedron
    ("C10", "diamond", "diamond"): 36.0,  # icosidodecahedron
    ("C8", "centre", "centre"): 90.0,  # octahedron
    ("C8", "triangle", "triangle"): 70.5287793655,  # cube
    ("C8", "diamond", "diamond"): 60.0,  # cuboctahedron
    ("C6", "centre", "centre"): 70.5287793655,  # cube
    ("C4", "centre", "centre"): 90.0,  # octahedron
}
EDGES = {  # Euler's table of the same solids
    ("C10", "centre", "centre"): 30,
    ("C10", "triangle", "triangle"): 30,
    ("C10", "diamond", "diamond"): 60,
    ("C8", "centre", "centre"): 12,
    ("C8", "triangle", "triangle"): 12,
    ("C8", "diamond", "diamond"): 24,
    ("C6", "centre", "centre"): 12,
    ("C4", "centre", "centre"): 12,
}
# Points by ways, great circles, triangles. 26 and 62 points, 48 and 120 triangles, 9 and 15 circles: M. Mannone and
# T. Yoshino, Algorithms 15(8):286 (2022). 14 points for C6 from Euler (its table prints 10: no
# 24 triangles could have so few).
COUNTS = {
    "C4": ({4: 6}, 3, 8),
    "C6": ({6: 8, 4: 6}, 6, 24),
    "C8": ({8: 6, 6: 8, 4: 12}, 9, 48),
    "C10": ({10: 12, 6: 20, 4: 30}, 15, 120),
}
