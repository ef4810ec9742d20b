"""Water, light and fish of a stand: channels, pipes, pumps, tanks, lamps. Estimates, each with its source."""
