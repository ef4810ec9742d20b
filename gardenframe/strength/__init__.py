"""Will it stand: sections, beams, loads, the frame solver, checks and anchors."""
