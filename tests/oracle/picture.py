"""Cost against members and days, as a small SVG whose words stay words."""

import io

import matplotlib

matplotlib.use("svg")
import matplotlib.pyplot as plt

INK, LINE = "#20303a", "#2f6b4f"


def drawn(runs, lines, member_days, day_members):
    """The picture's text: (count, seconds) against members and days, and the start and slope of a line for each."""
    plt.rcParams.update({
        "svg.fonttype": "none", "svg.hashsalt": "cost", "font.size": 9, "font.family": "sans-serif",
        "text.color": INK, "axes.labelcolor": INK, "axes.edgecolor": INK, "xtick.color": INK, "ytick.color": INK,
    })  # fmt: skip
    figure, axes = plt.subplots(1, 2, figsize=(7.2, 2.8), layout="constrained")
    labels = (f"members ({member_days} days)", f"days ({day_members:,} members)")
    for at, points, (start, slope), label in zip(axes, runs, lines, labels):
        x, y = zip(*points)
        at.plot([0, x[-1]], [start, start + slope * x[-1]], color=LINE, lw=1, label="straight line")
        at.plot(x, y, "o", color=INK, ms=4, label="measured")
        at.set(xlabel=label, ylabel="CPU seconds, one core", xlim=(0, None), ylim=(0, None))
        at.spines[["top", "right"]].set_visible(False)
        at.legend(frameon=False, loc="upper left")
    out = io.StringIO()
    figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    plt.close(figure)
    text = out.getvalue()
    text = text[text.index("<svg") :]
    head, rest = text.split(">", 1)
    told = (
        f"Left: {', '.join(f'{n} members {s:.2f} s' for n, s in runs[0])}. "
        f"Right: {', '.join(f'{n} days {s:.2f} s' for n, s in runs[1])}. Each with the straight line nearest to it."
    )
    title = "Cost of a forecast against members and days"
    label = ' role="img" aria-labelledby="cost-title cost-desc"'
    return f'{head}{label}>\n <title id="cost-title">{title}</title>\n <desc id="cost-desc">{told}</desc>{rest}'
