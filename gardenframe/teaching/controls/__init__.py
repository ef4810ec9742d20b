"""The widgets of a panel; nothing else in gardenframe imports ipywidgets.

`inputs` makes the controls of one set of fields, `fold` what opens and closes, `names` labels for screen readers,
`panel` puts them beside the results and keeps these true, `sweep` moves every control for the tests.
"""

from gardenframe.teaching.controls.panel import Extra, Panel, panel
from gardenframe.teaching.controls.sweep import Swept

__all__ = ["Extra", "Panel", "Swept", "panel"]
