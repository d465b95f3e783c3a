"""What comes off, in what order, and how does it go back, at the least cost?"""
