"""What to cut from what, and what it costs: cutting plans of whole sticks, and the bill."""
