"""What leaves the machine, who may read the files, and what stands in what is given away."""
