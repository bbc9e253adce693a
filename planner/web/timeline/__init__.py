"""The timeline: a plan laid out in lanes as figures for one SVG, nothing of it drawn in the browser."""
