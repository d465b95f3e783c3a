"""What does the work cost, line by line and to the last minor unit?"""
