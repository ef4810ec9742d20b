"""Questions over many plans: what happens across a range, what is the limit, which is cheaper."""
