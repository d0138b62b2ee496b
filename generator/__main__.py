"""`python -m generator` is `wortledger`."""

from generator.cli import main

main(prog_name="wortledger")
