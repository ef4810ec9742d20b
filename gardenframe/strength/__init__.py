"""Will it stand: loads, closed forms, the frame solver, checks of members and joints, and what holds it down.

Read in this order: `cases` (what a load is), `beams` (one span by hand), `mesh` (a frame as elements), `stiffness`
(solve it), `second_order` (sway and buckling), `response` (what came out).
"""
