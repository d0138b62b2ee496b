"""Pure science: floats or arrays in and out, no files, no unit strings, no knowledge of batches.

One published model is one function with one citation and one reference table. The methods page is made from
the docstrings of this package, section by section: title, words, Formula, Args, Returns, Valid, Raises, Source.
"""
