"""Other people's formats: CSV, Parquet, SNIRF, Lab Streaming Layer."""
