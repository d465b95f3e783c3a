"""What is done at the bench with one device, line by line?"""
