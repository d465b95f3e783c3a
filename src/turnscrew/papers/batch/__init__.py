"""Which papers does a batch need, from the crate to the invoice?"""
