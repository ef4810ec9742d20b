"""What can be bought and where it stands: frozen records over the tables in data/."""
