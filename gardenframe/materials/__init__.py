"""Frozen records over the tables in `data/`: what is bought, what grows, what it stands in, what it costs."""
