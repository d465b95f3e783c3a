"""What is asked of a whole batch, and what comes out?"""
