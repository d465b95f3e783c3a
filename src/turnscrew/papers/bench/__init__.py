"""Which papers lie on the bench while a device is open?"""
