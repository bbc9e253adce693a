"""What a repair costs against a new tyre, in Decimal."""
