"""A grid of heights, bilinear in each cell, measured a second way: by sampling and zooming in."""

import numpy as np


class Bilinear:
    """Heights `(ny, nx)` on a level grid."""

    def __init__(self, origin, spacing, heights):
        self.origin, self.spacing = np.asarray(origin, float), np.asarray(spacing, float)
        self.heights = np.asarray(heights, float)
        self.cells = np.array(self.heights.shape[::-1]) - 1

    def height(self, x, y):
        u = (np.asarray(x, float) - self.origin[0]) / self.spacing[0]
        v = (np.asarray(y, float) - self.origin[1]) / self.spacing[1]
        i = np.clip(np.floor(u).astype(int), 0, self.cells[0] - 1)
        j = np.clip(np.floor(v).astype(int), 0, self.cells[1] - 1)
        a, b, z = u - i, v - j, self.heights
        low = z[j, i] * (1 - a) + z[j, i + 1] * a
        high = z[j + 1, i] * (1 - a) + z[j + 1, i + 1] * a
        return low * (1 - b) + high * b

    def contains(self, x, y):
        u = (np.asarray(x, float) - self.origin[0]) / self.spacing[0]
        v = (np.asarray(y, float) - self.origin[1]) / self.spacing[1]
        return (u >= 0) & (u <= self.cells[0]) & (v >= 0) & (v <= self.cells[1])

    def distance(self, point, within, fine=9, zooms=22, kept=8):
        """The distance from a point to the surface, to about 1e-12.

        Every cell within reach is sampled; in the most promising ones the sampling is drawn in, three
        times finer each time, round the best sample of that cell.
        """
        point = np.asarray(point, float)
        corners = self._cells_within(point, within)
        size = self.spacing.copy()
        low, high = corners, corners + size
        middle, reach = corners + size / 2, size / 2
        best = np.full(len(corners), np.inf)
        for zoom in range(zooms):
            grid = np.linspace(-1, 1, fine)
            x = np.clip(middle[:, :1, None] + reach[0] * grid[None, :, None], low[:, :1, None], high[:, :1, None])
            y = np.clip(middle[:, 1:, None] + reach[1] * grid[None, None, :], low[:, 1:, None], high[:, 1:, None])
            x, y = np.broadcast_arrays(x, y)
            d = np.sqrt((x - point[0]) ** 2 + (y - point[1]) ** 2 + (self.height(x, y) - point[2]) ** 2)
            flat = d.reshape(len(d), -1)
            where = flat.argmin(axis=1)
            rows = np.arange(len(d))
            best = np.minimum(best, flat[rows, where])
            middle = np.stack([x.reshape(flat.shape)[rows, where], y.reshape(flat.shape)[rows, where]], axis=1)
            if zoom == 0:
                keep = np.argsort(best)[:kept]
                middle, best, low, high = middle[keep], best[keep], low[keep], high[keep]
                reach = reach * 2 / (fine - 1) * 1.5
            else:
                reach = reach / 3
        return best.min()

    def _cells_within(self, point, within):
        first = np.floor((point[:2] - within - self.origin) / self.spacing).astype(int)
        last = np.floor((point[:2] + within - self.origin) / self.spacing).astype(int)
        first, last = np.clip(first, 0, self.cells - 1), np.clip(last, 0, self.cells - 1)
        i, j = np.meshgrid(np.arange(first[0], last[0] + 1), np.arange(first[1], last[1] + 1))
        return self.origin + np.stack([i.ravel(), j.ravel()], axis=1) * self.spacing


def bumpy(seed, n=81, spacing=0.25, relief=0.3):
    """A random grid: slow waves with a quarter of their relief again as roughness at every node."""
    rng = np.random.default_rng(seed)
    x = np.arange(n) * spacing
    heights = np.zeros((n, n))
    for _ in range(6):
        kx, ky, phase = rng.normal(0, 0.8), rng.normal(0, 0.8), rng.uniform(0, 2 * np.pi)
        heights += np.sin(kx * x[None, :] + ky * x[:, None] + phase)
    heights = relief * (heights / 2 + rng.uniform(-0.25, 0.25, (n, n)))
    return Bilinear((-2.0, -n * spacing / 2), (spacing, spacing), heights)
