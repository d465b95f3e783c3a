"""What does the workshop ask for? Each function is one question, engines introduced."""
