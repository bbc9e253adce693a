"""How smoothly the timeline pans: frames a second while it scrolls by for three seconds."""

PAN = """async () => { const board = document.getElementById("board"); let frames = 0;
  const until = performance.now() + 3000;
  const width = board.scrollWidth - board.clientWidth;
  while (performance.now() < until) {
    board.scrollLeft = (board.scrollLeft + 24) % width;
    frames += 1;
    await new Promise(requestAnimationFrame);
  }
  return frames / 3; }"""
