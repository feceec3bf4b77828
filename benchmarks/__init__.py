"""How fast, how small and how sound livemon is: `python -m benchmarks` measures it all."""
