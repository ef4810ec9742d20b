"""The widgets of a panel; nothing else in gardenframe imports ipywidgets.

`inputs` makes the controls of one set of fields, `fold` what opens and closes, `names` labels for screen readers,
`panel` puts them beside the results and keeps these true, `sweep` moves every control for the tests.
`practised` holds check yourself and guess first. `small` and `gallery` are the live things of the first workbook,
`seasons` those of later seasons, `form` its settings; `what_if` compares, `own` takes tables; `place` is the site
beside a panel; `evidence_page` shows what the numbers rest on, `paged` long tables a few rows at a time.
"""

from gardenframe.teaching.controls.class_list import ClassList, class_order
from gardenframe.teaching.controls.evidence_page import EvidencePage, sources_and_checks
from gardenframe.teaching.controls.form import SettingsForm, settings_form
from gardenframe.teaching.controls.gallery import gallery
from gardenframe.teaching.controls.model_page import ModelPage, model_page
from gardenframe.teaching.controls.own import OwnPanel, own_frame
from gardenframe.teaching.controls.panel import Extra, Panel, panel
from gardenframe.teaching.controls.place import site_controls
from gardenframe.teaching.controls.practised import Guesses, Practice, guess, practice
from gardenframe.teaching.controls.seasons import looking_after, months, next_crops, out_of_old
from gardenframe.teaching.controls.small import OneSlider, TypedLength, one_slider, typed_length
from gardenframe.teaching.controls.sweep import Swept
from gardenframe.teaching.controls.what_if import WhatIf, WhatIfs, what_if, what_ifs

__all__ = [
    "ClassList",
    "EvidencePage",
    "Extra",
    "Guesses",
    "ModelPage",
    "OneSlider",
    "OwnPanel",
    "Panel",
    "Practice",
    "SettingsForm",
    "Swept",
    "TypedLength",
    "WhatIf",
    "WhatIfs",
    "class_order",
    "gallery",
    "guess",
    "looking_after",
    "model_page",
    "months",
    "next_crops",
    "one_slider",
    "out_of_old",
    "own_frame",
    "panel",
    "practice",
    "settings_form",
    "site_controls",
    "sources_and_checks",
    "typed_length",
    "what_if",
    "what_ifs",
]
