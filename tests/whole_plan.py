"""What a test asks of a whole plan: every part that no build can do without."""

READ = (
    *("fittings", "pieces", "cutting", "coverings", "bill", "cost", "cautions", "steps", "warnings", "working"),
    *("loads", "checks", "anchors"),
)
