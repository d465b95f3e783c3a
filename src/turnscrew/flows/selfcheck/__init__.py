"""Do the reckonings give what is printed elsewhere?"""
