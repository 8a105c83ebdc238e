"""The pages of the project are true."""
