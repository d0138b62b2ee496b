"""The only reader of the user's files: text in, typed records out, each with its file and line; every Problem collected."""
