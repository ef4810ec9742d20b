"""The page that a learner meets: controls made from a build's own fields, live results, figures.

`values` keeps what the reader chose, `results` turns a plan into pages of text; both know no widget and can be tested
alone. `controls` (the only importer of ipywidgets) and `figures` (the only one of plotly) are thin on top of them.
"""
