"""Which devices of a batch are those on the list, and which serials are doubtful?"""
