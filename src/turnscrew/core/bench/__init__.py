"""What is the next action at the bench, what is off, and what may not be done now?"""
