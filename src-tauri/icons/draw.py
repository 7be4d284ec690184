"""Draws the mark in every form the bundles ask for: `python3 src-tauri/icons/draw.py`.

The mark: two surfaces that meet flush under a snapped chalk line, on a sheet of paper. Rectangles on a 64 grid, so
that the vector file and the pictures come from one list.
"""

import struct
import zlib
from pathlib import Path

GRID = 64
SHEET, CHALK, FLUSH = "#f3f5f7", "#174a94", "#0b5a3c"
RECTANGLES = [
    (0, 0, 64, 64, SHEET),
    (6, 18, 52, 4, CHALK),  # the line
    (10, 13, 3, 14, CHALK),  # its ticks
    (51, 13, 3, 14, CHALK),
    (8, 32, 23, 22, FLUSH),  # the two surfaces
    (33, 32, 23, 22, FLUSH),
]
HERE = Path(__file__).parent


def rgba(colour):
    return bytes.fromhex(colour[1:]) + b"\xff"


def coverage(low, length, pixel, size):
    """The share of one pixel that lies within a span, all in grid units."""
    step = GRID / size
    return max(0.0, min(low + length, (pixel + 1) * step) - max(low, pixel * step)) / step


def blend(under, over, share):
    return tuple(u + (o - u) * share for u, o in zip(under, over))


def pixels(size):
    rows = [[(0.0, 0.0, 0.0, 0.0)] * size for _ in range(size)]
    for x, y, width, height, colour in RECTANGLES:
        across = [coverage(x, width, i, size) for i in range(size)]
        down = [coverage(y, height, i, size) for i in range(size)]
        for row, share in zip(rows, down):
            if share:
                row[:] = [blend(p, rgba(colour), share * a) if a else p for p, a in zip(row, across)]
    return rows


def png(size):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    lines = b"".join(b"\0" + bytes(round(c) for p in row for c in p) for row in pixels(size))
    header = struct.pack(">IIBBBBB", size, size, 8, 6, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(lines, 9)) + chunk(b"IEND", b"")


def ico(sizes):
    pictures = [png(size) for size in sizes]
    offset = 6 + 16 * len(sizes)
    entries = b""
    for size, picture in zip(sizes, pictures):
        entries += struct.pack("<BBBBHHII", size % 256, size % 256, 0, 0, 1, 32, len(picture), offset)
        offset += len(picture)
    return struct.pack("<HHH", 0, 1, len(sizes)) + entries + b"".join(pictures)


def icns(kinds):
    parts = b"".join(kind + struct.pack(">I", len(data) + 8) + data for kind, data in kinds)
    return b"icns" + struct.pack(">I", len(parts) + 8) + parts


def svg():
    shapes = "".join(f'<rect x="{x}" y="{y}" width="{w}" height="{h}" fill="{c}"/>' for x, y, w, h, c in RECTANGLES)
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {GRID} {GRID}">{shapes}</svg>\n'


def main():
    (HERE / "mark.svg").write_text(svg())
    for name, size in [("32x32", 32), ("128x128", 128), ("128x128@2x", 256), ("icon", 512)]:
        (HERE / f"{name}.png").write_bytes(png(size))
    (HERE / "icon.ico").write_bytes(ico([16, 32, 48, 256]))
    (HERE / "icon.icns").write_bytes(icns([(b"ic07", png(128)), (b"ic08", png(256)), (b"ic09", png(512))]))


main()
