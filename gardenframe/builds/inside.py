"""Words for what is in a frame, by which tables say what goes with it: what to look at, what to look after."""

from typing import Any

from gardenframe.materials.coverings import load_coverings

TIES = ("tie-", "clip-", "ring", "batten")


def tags_of(made: Any) -> set[str]:
    """Return words for what is in a plan's frame: bases, families, kinds of covering, whether bent, spliced, hinged."""
    frame, covers = made.frame, load_coverings()
    found = {support.base.replace(" ", "-") for support in frame.supports} | {frame.joining}
    found |= {made.shop.member(piece.member).family for piece in made.cut}
    found |= {covers[panel.covering].kind for panel in frame.panels if panel.covering}
    facts = {
        "spliced": any(run.splices for run in frame.runs.values()),
        "bent": any(piece.bends for piece in made.cut),
        "hinged": any(part.motion == "hinged" for part in frame.parts),
        "wire": any(made.shop.member(run.member).tension_only for run in frame.runs.values()),
        "ties": any(covered.fixings and covered.fixing.startswith(TIES) for covered in made.covered),
    }
    return found | set(made.build.cautions()) | {word for word, true in facts.items() if true}
