"""Reading files of rows, for whatever is imported: cells, columns, faults by row, a trial of the whole."""
