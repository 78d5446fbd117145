"""Pictures made from the records, as SVG text: to scale where sizes are known, and saying so."""
