"""How the gallery page looks: paper, ink and hairlines, so that the balls are the only saturated thing in sight."""

HEAD = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Families · Polestitch</title>
<style>
:root { --paper: #faf7f1; --ink: #23262d; --quiet: #5c6068; --line: #d9d2c5; --indigo: #2b4c7e; --brass: #82621a; }
* { box-sizing: border-box; }
html { scroll-behavior: smooth; }
body { margin: 0 auto; padding: 4rem clamp(1.25rem, 5vw, 5rem) 6rem; max-width: 94rem; background: var(--paper);
  color: var(--ink); font: 1rem/1.55 "Atkinson Hyperlegible Next", "Atkinson Hyperlegible", system-ui, sans-serif; }
h1, h2, h3 { font-family: "Source Serif 4", "Source Serif Pro", Georgia, "Noto Serif", serif; font-weight: 500;
  line-height: 1.15; }
h1 { font-size: clamp(2.6rem, 6vw, 4.2rem); margin: 0 0 1rem; letter-spacing: -0.015em; }
header p { max-width: 42rem; margin: 0 0 1rem; font-size: 1.15rem; }
code { font: 0.9em ui-monospace, "DejaVu Sans Mono", monospace; color: var(--quiet); }
nav { display: flex; flex-wrap: wrap; gap: 0.4rem 1.6rem; margin-top: 2.5rem; padding: 0.9rem 0;
  border-block: 1px solid var(--line); }
a { color: var(--indigo); text-decoration-thickness: 1px; text-underline-offset: 0.2em; }
nav a { text-decoration: none; }
a:focus-visible { outline: 2px solid var(--brass); outline-offset: 3px; }
section { margin-top: 4.5rem; scroll-margin-top: 1rem; }
h2 { font-size: 2rem; margin: 0 0 2rem; }
h2 span { margin-left: 0.7rem; font-size: 1rem; color: var(--quiet); font-variant-numeric: tabular-nums; }
.balls { display: grid; grid-template-columns: repeat(auto-fill, minmax(19rem, 1fr)); gap: 3.5rem 3rem; }
article { display: flex; flex-direction: column; }
img { width: 100%; height: auto; margin: 0 0 0.4rem; }
h3 { font-size: 1.45rem; margin: 0 0 0.4rem; }
h3 i { font-weight: 400; color: var(--quiet); font-size: 0.85em; }
article p { margin: 0 0 1rem; }
dl { display: grid; grid-template-columns: 5.2rem 1fr; gap: 0.15rem 0.8rem; margin: 0 0 0.8rem; padding-top: 0.8rem;
  border-top: 1px solid var(--line); font-size: 0.9rem; line-height: 1.45; }
dt { color: var(--quiet); }
dd { margin: 0; }
.hard { color: var(--brass); letter-spacing: 0.08em; }
@media (prefers-reduced-motion: reduce) { html { scroll-behavior: auto; } }
@media print { section { break-inside: avoid-page; } nav { display: none; } }
</style>
</head>"""
