"""Sun, shade, heat and air: where the sun stands, what it gives, what is shaded, what a covered house loses."""
