"""What stands where on every sheet, one file a sheet. Decides everything, prints nothing."""
