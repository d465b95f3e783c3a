"""What does the workshop ask about a whole batch?"""
