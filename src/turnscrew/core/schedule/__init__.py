"""Who does what on which day, and when is it done?"""
