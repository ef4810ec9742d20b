"""What leaves the program: drawings, bars, build sheets, exports and saved work. A plan comes in, text goes out."""
