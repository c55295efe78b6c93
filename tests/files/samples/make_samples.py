"""Draws the same pieces with many SVG writers; what they wrote lies beside this file.

Run with a Python that has the writers named below: `python make_samples.py FOLDER [WRITER ...]`.
Every writer is given millimetres in its own way. The pieces: an L of straight sides with a line
and a word in it; a panel with a bent upper side and a round hole; a disc. All numbers invented.
"""

# ruff: noqa: PLC0415 - no Python has all the writers, so each is imported where it draws

from __future__ import annotations

import math
import sys
from pathlib import Path

WIDE, HIGH = 240.0, 100.0
ELL = [(10, 10), (60, 10), (60, 30), (35, 30), (35, 60), (10, 60)]
LINE = [(15, 50), (30, 20)]
PANEL = [(80, 20), (110, 5), (140, 40), (160, 20), (160, 80), (80, 80)]
HOLE, HOLE_R = (120, 55), 8.0
DISC, DISC_R = (200, 45), 20.0
WORD, WORD_AT, WORD_MM = "Ell", (14, 58), 5.0
POINTS = 72.0 / 25.4


def by_matplotlib(to):
    import matplotlib as mpl

    mpl.use("svg")
    mpl.rcParams["svg.fonttype"] = "none"
    from matplotlib import pyplot as plt
    from matplotlib.patches import Circle, PathPatch, Polygon
    from matplotlib.path import Path as MplPath

    figure = plt.figure(figsize=(WIDE / 25.4, HIGH / 25.4))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, WIDE), ylim=(HIGH, 0))
    axes.axis("off")
    look = {"fill": False, "linewidth": 0.5}
    axes.add_patch(Polygon(ELL, closed=True, gid="ell", **look))
    axes.plot(*zip(*LINE, strict=True), linewidth=0.5, gid="line")
    codes = [MplPath.MOVETO] + [MplPath.CURVE4] * 3 + [MplPath.LINETO] * 2 + [MplPath.CLOSEPOLY]
    axes.add_patch(PathPatch(MplPath([*PANEL, PANEL[0]], codes), gid="panel", **look))
    axes.add_patch(Circle(HOLE, HOLE_R, **look))
    axes.add_patch(Circle(DISC, DISC_R, gid="disc", **look))
    axes.text(*WORD_AT, WORD, fontsize=WORD_MM * POINTS)
    figure.savefig(to)
    return f"matplotlib {mpl.__version__}"


def by_qt(to):
    import PySide6
    from PySide6.QtCore import QPointF, QRectF, QSize
    from PySide6.QtGui import QGuiApplication, QPainter, QPainterPath, QPen, QPolygonF
    from PySide6.QtSvg import QSvgGenerator

    app = QGuiApplication.instance() or QGuiApplication(["-platform", "offscreen"])
    page = QSvgGenerator()
    page.setFileName(str(to))
    page.setResolution(254)
    page.setSize(QSize(int(WIDE * 10), int(HIGH * 10)))
    page.setViewBox(QRectF(0, 0, WIDE * 10, HIGH * 10))
    pen = QPainter(page)
    pen.setPen(QPen())
    pen.scale(10, 10)
    pen.drawPolygon(QPolygonF([QPointF(*one) for one in ELL]))
    pen.drawLine(QPointF(*LINE[0]), QPointF(*LINE[1]))
    path = QPainterPath(QPointF(*PANEL[0]))
    path.cubicTo(*(QPointF(*one) for one in PANEL[1:4]))
    for one in PANEL[4:]:
        path.lineTo(QPointF(*one))
    path.closeSubpath()
    path.addEllipse(QPointF(*HOLE), HOLE_R, HOLE_R)
    pen.drawPath(path)
    pen.drawEllipse(QPointF(*DISC), DISC_R, DISC_R)
    pen.end()
    del app
    return f"Qt {PySide6.__version__} QSvgGenerator"


def by_cairo(to):
    import cairocffi as cairo

    surface = cairo.SVGSurface(str(to), WIDE * POINTS, HIGH * POINTS)
    pen = cairo.Context(surface)
    pen.scale(POINTS, POINTS)
    pen.set_line_width(0.2)
    pen.move_to(*ELL[0])
    for one in ELL[1:]:
        pen.line_to(*one)
    pen.close_path()
    pen.stroke()
    pen.move_to(*LINE[0])
    pen.line_to(*LINE[1])
    pen.stroke()
    pen.move_to(*PANEL[0])
    pen.curve_to(*PANEL[1], *PANEL[2], *PANEL[3])
    pen.line_to(*PANEL[4])
    pen.line_to(*PANEL[5])
    pen.close_path()
    pen.new_sub_path()
    pen.arc(*HOLE, HOLE_R, 0, 2 * math.pi)
    pen.close_path()
    pen.stroke()
    pen.arc(*DISC, DISC_R, 0, 2 * math.pi)
    pen.close_path()
    pen.stroke()
    surface.finish()
    return f"cairo {cairo.cairo_version_string()} by cairocffi"


def by_svgwrite(to):
    import svgwrite

    page = svgwrite.Drawing(
        str(to), size=(f"{WIDE}mm", f"{HIGH}mm"), viewBox=f"0 0 {WIDE} {HIGH}", profile="full"
    )
    group = page.add(page.g(id="ell", fill="none", stroke="black"))
    group.add(page.polygon(ELL))
    group.add(page.line(*LINE))
    group.add(page.text(WORD, insert=WORD_AT, font_size=WORD_MM))
    path = page.path(("M", *PANEL[0]), id="panel", fill="none")
    path.push("C", *PANEL[1], *PANEL[2], *PANEL[3])
    path.push("L", *PANEL[4], *PANEL[5])
    path.push("Z")
    page.add(path)
    page.add(page.circle(HOLE, HOLE_R))
    disc = page.defs.add(page.circle((0, 0), DISC_R, id="round"))
    page.add(page.use(disc, insert=DISC, id="disc"))
    page.save()
    return f"svgwrite {svgwrite.__version__}"


def by_drawsvg(to):
    import drawsvg

    page = drawsvg.Drawing(WIDE, HIGH)
    page.set_render_size(f"{WIDE}mm", f"{HIGH}mm")
    page.append(drawsvg.Lines(*[v for one in ELL for v in one], close=True, id="ell", fill="none"))
    page.append(drawsvg.Line(*LINE[0], *LINE[1], stroke="black"))
    page.append(drawsvg.Text(WORD, WORD_MM, *WORD_AT))
    path = drawsvg.Path(id="panel", fill="none")
    path.M(*PANEL[0]).C(*PANEL[1], *PANEL[2], *PANEL[3]).L(*PANEL[4]).L(*PANEL[5]).Z()
    page.append(path)
    page.append(drawsvg.Circle(*HOLE, HOLE_R))
    page.append(drawsvg.Circle(*DISC, DISC_R, id="disc"))
    page.save_svg(str(to))
    from importlib.metadata import version

    return f"drawsvg {version('drawsvg')}"


def by_ezdxf(to):
    import ezdxf
    from ezdxf.addons.drawing import Frontend, RenderContext, layout, svg

    document = ezdxf.new(units=ezdxf.units.MM)
    space = document.modelspace()
    space.add_lwpolyline([(x, HIGH - y) for x, y in ELL], close=True)
    space.add_line(*[(x, HIGH - y) for x, y in LINE])
    points = [(x, HIGH - y, 0) for x, y in PANEL]
    space.add_open_spline(points[:4], degree=3)
    space.add_lwpolyline([points[index][:2] for index in (3, 4, 5, 0)])
    space.add_circle((HOLE[0], HIGH - HOLE[1]), HOLE_R)
    space.add_circle((DISC[0], HIGH - DISC[1]), DISC_R)
    backend = svg.SVGBackend()
    Frontend(RenderContext(document), backend).draw_layout(space)
    page = layout.Page(WIDE, HIGH, layout.Units.mm, margins=layout.Margins.all(5))
    to.write_text(backend.get_string(page, settings=layout.Settings(scale=1, fit_page=False)))
    return f"ezdxf {ezdxf.__version__} drawing add-on"


def by_shapely(to):
    import shapely

    ell = shapely.Polygon(ELL)
    t = [k / 64 for k in range(65)]
    bow = [
        tuple(
            (1 - s) ** 3 * a + 3 * (1 - s) ** 2 * s * b + 3 * (1 - s) * s * s * c + s**3 * d
            for a, b, c, d in zip(*PANEL[:4], strict=True)
        )
        for s in t
    ]
    panel = shapely.Polygon(
        [*bow, *PANEL[4:]], [shapely.Point(HOLE).buffer(HOLE_R, 64).exterior.coords]
    )
    disc = shapely.Point(DISC).buffer(DISC_R, 64)
    inner = "".join(one.svg(0.2) for one in (ell, shapely.LineString(LINE), panel, disc))
    to.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE}mm" height="{HIGH}mm" '
        f'viewBox="0 0 {WIDE} {HIGH}">{inner}</svg>'
    )
    return f"shapely {shapely.__version__}"


def by_fonttools(to):
    import fontTools
    from fontTools.pens.svgPathPen import SVGPathPen

    def drawn(draw):
        pen = SVGPathPen(None)
        draw(pen)
        return pen.getCommands()

    def ell(pen):
        pen.moveTo(ELL[0])
        for one in ELL[1:]:
            pen.lineTo(one)
        pen.closePath()

    def panel(pen):
        pen.moveTo(PANEL[0])
        pen.curveTo(*PANEL[1:4])
        pen.lineTo(PANEL[4])
        pen.lineTo(PANEL[5])
        pen.closePath()

    def disc(pen):
        # As in a font: quadratics between points on the circle's corners.
        step = math.pi / 8
        far = DISC_R / math.cos(step)
        off = [
            (DISC[0] + far * math.cos(k * 2 * step), DISC[1] + far * math.sin(k * 2 * step))
            for k in range(8)
        ]
        pen.qCurveTo(*off, None)
        pen.closePath()

    to.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE}mm" height="{HIGH}mm" '
        f'viewBox="0 0 {WIDE} {HIGH}"><path id="ell" d="{drawn(ell)}"/>'
        f'<path id="panel" d="{drawn(panel)}"/><path id="disc" d="{drawn(disc)}"/></svg>'
    )
    return f"fontTools {fontTools.version} SVGPathPen"


def by_reportlab(to):
    import reportlab
    from reportlab.graphics import renderSVG
    from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Path, Polygon, String
    from reportlab.lib.colors import black

    def flat(points):
        return [v for x, y in points for v in (x, HIGH - y)]

    look = {"fillColor": None, "strokeColor": black}
    page = Drawing(WIDE * POINTS, HIGH * POINTS)
    all_ = Group(transform=(POINTS, 0, 0, POINTS, 0, 0))
    all_.add(Polygon(flat(ELL), **look))
    all_.add(Line(*flat(LINE), strokeColor=black))
    all_.add(String(*flat([WORD_AT]), WORD, fontSize=WORD_MM))
    path = Path(**look)
    points = [(x, HIGH - y) for x, y in PANEL]
    path.moveTo(*points[0])
    path.curveTo(*points[1], *points[2], *points[3])
    path.lineTo(*points[4])
    path.lineTo(*points[5])
    path.closePath()
    all_.add(path)
    all_.add(Circle(HOLE[0], HIGH - HOLE[1], HOLE_R, **look))
    all_.add(Circle(DISC[0], HIGH - DISC[1], DISC_R, **look))
    page.add(all_)
    renderSVG.drawToFile(page, str(to))
    return f"reportlab {reportlab.__version__} renderSVG"


def by_pymupdf(to):
    import pymupdf

    document = pymupdf.open()
    page = document.new_page(width=WIDE * POINTS, height=HIGH * POINTS)

    def at(one):
        return pymupdf.Point(one[0] * POINTS, one[1] * POINTS)

    shape = page.new_shape()
    shape.draw_polyline([at(one) for one in [*ELL, ELL[0]]])
    shape.finish(width=0.5, closePath=True)
    shape.draw_line(at(LINE[0]), at(LINE[1]))
    shape.finish(width=0.5)
    shape.draw_bezier(*(at(one) for one in PANEL[:4]))
    shape.draw_polyline([at(PANEL[index]) for index in (3, 4, 5, 0)])
    shape.finish(width=0.5, closePath=True)
    shape.draw_circle(at(HOLE), HOLE_R * POINTS)
    shape.finish(width=0.5)
    shape.draw_circle(at(DISC), DISC_R * POINTS)
    shape.finish(width=0.5)
    shape.commit()
    page.insert_text(at(WORD_AT), WORD, fontsize=WORD_MM * POINTS)
    to.write_text(page.get_svg_image(text_as_path=False))
    return f"PyMuPDF {pymupdf.__version__}"


def by_skia(to):
    import skia

    stream = skia.FILEWStream(str(to))
    pen = skia.SVGCanvas.Make((WIDE, HIGH), stream)
    paint = skia.Paint(Style=skia.Paint.kStroke_Style, StrokeWidth=0.2)
    ell = skia.Path()
    ell.addPoly([skia.Point(*one) for one in ELL], True)  # noqa: FBT003
    pen.drawPath(ell, paint)
    pen.drawLine(*LINE[0], *LINE[1], paint)
    panel = skia.Path()
    panel.moveTo(*PANEL[0])
    panel.cubicTo(*PANEL[1], *PANEL[2], *PANEL[3])
    panel.lineTo(*PANEL[4])
    panel.lineTo(*PANEL[5])
    panel.close()
    panel.addCircle(*HOLE, HOLE_R)
    pen.drawPath(panel, paint)
    pen.drawCircle(*DISC, DISC_R, paint)
    del pen
    stream.flush()
    return f"skia {skia.__version__} SVGCanvas"


def by_svgpathtools(to):
    import svgpathtools
    from svgpathtools import Arc, CubicBezier, Line, wsvg

    def c(point):
        return complex(*point)

    def ring(points):
        return [Line(c(a), c(b)) for a, b in zip(points, [*points[1:], points[0]], strict=True)]

    def circle(centre, r):
        left, right = c(centre) - r, c(centre) + r
        return svgpathtools.Path(
            Arc(left, r + 1j * r, 0, False, True, right),  # noqa: FBT003
            Arc(right, r + 1j * r, 0, False, True, left),  # noqa: FBT003
        )

    bow = CubicBezier(*(c(one) for one in PANEL[:4]))
    panel = svgpathtools.Path(bow, *ring([PANEL[0], *PANEL[3:]])[1:])
    rows = [svgpathtools.Path(*ring(ELL)), svgpathtools.Path(Line(*map(c, LINE))), panel]
    rows += [circle(HOLE, HOLE_R), circle(DISC, DISC_R)]
    wsvg(
        rows,
        filename=str(to),
        dimensions=(f"{WIDE}mm", f"{HIGH}mm"),
        viewbox=f"0 0 {WIDE} {HIGH}",
        stroke_widths=[0.2] * len(rows),
    )
    from importlib.metadata import version

    return f"svgpathtools {version('svgpathtools')}"


def by_vpype(to):
    import vpype

    px = 96 / 25.4
    document = vpype.Document(page_size=(WIDE * px, HIGH * px))
    t = [k / 200 for k in range(201)]
    bow = [
        sum(
            w * complex(*p)
            for w, p in zip(
                ((1 - s) ** 3, 3 * (1 - s) ** 2 * s, 3 * (1 - s) * s * s, s**3),
                PANEL[:4],
                strict=True,
            )
        )
        for s in t
    ]
    import numpy as np

    ell = [complex(*one) for one in [*ELL, ELL[0]]]
    panel = [*bow, *(complex(*one) for one in [*PANEL[4:], PANEL[0]])]
    turn = np.exp(2j * np.pi * np.arange(361) / 360)
    rows = [ell, [complex(*one) for one in LINE], panel]
    rows += [complex(*HOLE) + HOLE_R * turn, complex(*DISC) + DISC_R * turn]
    for row in rows:
        document.add(vpype.LineCollection([np.array(row) * px]), 1)
    with to.open("w") as file:
        vpype.write_svg(file, document)
    from importlib.metadata import version

    return f"vpype {version('vpype')}"


WRITERS = {
    name.removeprefix("by_"): draw for name, draw in globals().items() if name.startswith("by_")
}


def main(folder, *wanted):
    """Write a file a writer, and a list of who wrote what."""
    for name in wanted or WRITERS:
        to = Path(folder) / f"{name}.svg"
        said = WRITERS[name](to)
        print(f"{to.name}: {said}")  # noqa: T201 - a script's only way to say it


if __name__ == "__main__":
    main(*sys.argv[1:])
