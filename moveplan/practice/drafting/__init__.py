"""What phases write with: the network in the making, crews, words, cautions, and what they ask about a move."""
