"""Pure reckoning: values in, values out."""
