"""The science layer against published tables, general libraries and worked examples."""
