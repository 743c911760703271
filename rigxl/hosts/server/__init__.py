"""The calculation server: worksheet functions and checks of workbooks over HTTP."""
