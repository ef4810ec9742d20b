"""Where the tubes lie: runs and joints, bends, what joins them, how long each piece is cut, what covers them."""
