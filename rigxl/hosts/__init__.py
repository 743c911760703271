"""The programs that call the worksheet functions, a folder each: made from the registry, no engineering."""
