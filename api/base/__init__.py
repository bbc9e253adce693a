"""What every resource shares: the view, errors, sign-in, preconditions, pages and the schema."""
