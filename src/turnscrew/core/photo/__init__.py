"""
Is a photo good enough to be looked at later, and what is drawn on it?

Sharpness by the variance of the Laplacian, relative to contrast; darkness by how bright
the brightest twentieth is.
"""
