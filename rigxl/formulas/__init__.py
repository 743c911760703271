"""Our functions in the cells of workbooks: found, worked out, compared, respelt and settled."""
