"""Which part goes to which device, and what must be bought?"""
