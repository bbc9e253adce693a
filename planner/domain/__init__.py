"""The words of the bay: plain values, standard library only."""
