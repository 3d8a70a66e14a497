"""Where an axle stands at two wheel travels, from the definitions, with SciPy.

Unknowns of their own: the axle's centre (m) and Gibbs vector, each rocker's turn, each radius arm's frame point (m) and Gibbs vector. Exactly
located layouts by least squares of all distances and both travels; over-located ones by the stationary point of the strain energy with the
travels as multipliers. Derivatives by complex steps. Slow and plain on purpose."""
import numpy as np
from scipy.linalg import lu_factor, lu_solve
from scipy.optimize import least_squares

from job import about, cross, unit

STEP = 30.0  # mm of the larger wheel travel, marching from ride height
DIFF = 0.01  # mm, central differences of the rates


def rotation(g):
    """R of a Gibbs vector (axis times the tangent of half the turn): rational, so it takes complex steps."""
    s = np.array([[0 * g[0], -g[2], g[1]], [g[2], 0 * g[0], -g[0]], [-g[1], g[0], 0 * g[0]]])
    return np.eye(3) + 2 / (1 + g @ g) * (s + s @ s)


class Place:
    """Everything that moves, at one set of unknowns (complex ones too)."""

    def __init__(self, job, x):
        self.job, self.x = job, x
        self.c, self.r = job.centre + 1000 * x[:3], rotation(x[3:6])
        n = 6 + len(job.rockers)
        self.turns = x[6:n]
        self.arms = {}
        for i, arm in enumerate(job.arms):
            if arm.radius:
                self.arms[i] = arm.frame[0] + 1000 * x[n:n + 3], rotation(x[n + 3:n + 6])
                n += 6

    def axle(self, p):
        return self.c + self.r @ (p - self.job.centre)

    def rocker(self, i, p):
        """A point of rocker i."""
        k = self.job.rockers[i]
        p = k.pivot + about(k.axis, self.turns[i], p - k.pivot)
        return self.axle(p) if k.on == "axle" else p

    def rocker_turn(self, i):
        """Rotation matrix of rocker i."""
        k = self.job.rockers[i]
        turn = np.array([about(k.axis, self.turns[i], e) for e in np.eye(3)]).T
        return self.r @ turn if k.on == "axle" else turn

    def held(self, carrier, p):
        return p if carrier == "frame" else self.axle(p) if carrier == "axle" else self.rocker(carrier, p)

    def turn(self, carrier):
        return np.eye(3) if carrier == "frame" else self.r if carrier == "axle" else self.rocker_turn(carrier)

    def bar(self, bar):
        return self.held(bar.near, bar.a), self.held(bar.far, bar.b)

    def gives(self, i):
        """How far each point of radius arm i is from its mount, seen from the mount as it was at ride, and the end: frame first."""
        arm, (at, r) = self.job.arms[i], self.arms[i]
        out = []
        for k, p in enumerate(arm.frame + arm.axle):
            e = at + r @ (p - arm.frame[0])
            out.append((e - p if k == 0 else self.r.T @ (e - self.axle(p)), arm.ends[k]))
        return out

    def stretches(self):
        """Every distance: links, bars of A-arms, rods."""
        out = []

        def far(a, b, length):
            d = b - a
            out.append(np.sqrt((d * d).sum()) - length)
        for l in self.job.links:
            far(*self.bar(l), l.length)
        for arm in self.job.arms:
            if not arm.radius:
                for f, length in zip(arm.frame, arm.lengths):
                    far(f, self.axle(arm.axle[0]), length)
        for k in self.job.rockers:
            for rod in k.rods:
                far(*self.bar(rod), rod.length)
        return np.array(out)

    def springs(self):
        """Square roots of twice the energies of the radius arms' pivots, direction by direction, their squares' sum being twice the energy."""
        out = []
        for i in self.arms:
            for e, end in self.gives(i):
                out += [np.sqrt(end.axial) * (e @ end.bolt)] + [np.sqrt(end.k) * (e @ side) for side in end.sides]
        return np.array(out)


class Solver:
    def __init__(self, job):
        self.job = job
        radius = sum(a.radius for a in job.arms)
        self.n = 6 + len(job.rockers) + 6 * radius
        self.k = np.array([l.k for l in job.links] + [k for a in job.arms if not a.radius for k in a.k] + [r.k for w in job.rockers for r in w.rods])
        self.over = radius > 0 or len(self.k) - len(job.rockers) > 4
        self.top = max(list(self.k) + [e.k for a in job.arms if a.radius for e in a.ends])

    def place(self, x):
        return Place(self.job, x)

    def strains(self, x):
        """Rows whose squares' sum is the energy in some unit; exactly located: the stretches themselves."""
        p = self.place(x)
        if not self.over:
            return p.stretches()
        return np.concatenate([np.sqrt(self.k) * p.stretches(), p.springs()]) / np.sqrt(self.top)

    def travels(self, x):
        c, r = self.job.centre + 1000 * x[:3], rotation(x[3:6])
        z, up = c[2] - self.job.radius, self.job.track / 2 * r[2, 1]
        return np.array([z + up, z - up])

    def jacobian(self, fun, x):
        h = 1e-30
        return np.array([fun(x + 1j * h * e).imag / h for e in np.eye(self.n)]).T

    def solve(self, start, left, right, lu=None, rough=False):
        """The unknowns at two travels, and the factors of the last matrix, which serve for a neighbour too. Rough: good to start the next from."""
        want = np.array([left, right])

        def rows(x):
            return np.concatenate([self.strains(x), self.travels(x) - want])
        x = start
        if lu is None:
            weight = np.concatenate([np.ones(len(self.strains(start))), [1e3, 1e3] if self.over else [1, 1]])
            x = least_squares(lambda x: weight * rows(x), start, jac=lambda x: weight[:, None] * self.jacobian(rows, x),
                              method="lm", xtol=3e-16, ftol=3e-16, gtol=3e-16, max_nfev=400).x
        if not self.over:
            for _ in range(3 if lu is None else 4):  # take out the last of it
                x = x - np.linalg.solve(self.jacobian(rows, x), rows(x))
            assert np.abs(rows(x)).max() < 1e-9, (left, right, rows(x))
            return x, ()
        if rough:
            return x, None

        n = self.n

        def stationary(y):  # gradient of the energy = multipliers times the gradients of the travels
            x, m = y[:n], y[n:]
            a, t = self.jacobian(self.strains, x), self.jacobian(self.travels, x)
            return np.concatenate([a.T @ self.strains(x) - t.T @ m, 1e3 * (self.travels(x) - want)])
        a, t = self.jacobian(self.strains, x), self.jacobian(self.travels, x)
        y = np.concatenate([x, np.linalg.lstsq(t.T, a.T @ self.strains(x), rcond=None)[0]])
        if lu is None:
            scale = np.array([1e-6] * n + [1e-3] * 2)
            at = stationary(y)
            lu = lu_factor(np.array([(stationary(y + e) - at) / e.max() for e in np.diag(scale)]).T)
        for _ in range(14):
            step = lu_solve(lu, stationary(y))
            y = y - step
            if np.abs(step[:n]).max() < 1e-15:
                break
        assert np.abs(stationary(y)).max() < 1e-6, (left, right, stationary(y))
        return y[:n], lu

    def march(self, left, right):
        x, lu = np.zeros(self.n), None
        steps = max(1, int(np.ceil(max(abs(left), abs(right)) / STEP)))
        for i in range(1, steps + 1):
            x, lu = self.solve(x, left * i / steps, right * i / steps, rough=i < steps)
        return x, lu

    def rate(self, x, lu, left, right, dl, dr):
        """Velocity of the centre, turn, and both positions either side, of the unit motion (dl, dr)."""
        a, b = (self.place(self.solve(x, left + s * DIFF * dl, right + s * DIFF * dr, lu)[0]) for s in (-1, 1))
        turn = b.r @ a.r.T
        w = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]]) / 2
        w = w * np.arcsin(np.linalg.norm(w)) / max(np.linalg.norm(w), 1e-300)
        return (b.c - a.c) / (2 * DIFF), w / (2 * DIFF), (a, b)

    def held(self, x):
        """Smallest singular value, and the motion that has it, of the rows of all distances and both travels, turns at one metre, the turns of rockers and the motions of radius
        arms taken out (each pivot of such an arm is three unit rows)."""
        p = self.place(x)
        arms = list(p.arms)
        width = self.n
        rows = []

        def row(u, at, sign=1.0, first=None, own=()):
            r = np.zeros(width)
            if at is not None:
                r[:6] = sign * np.concatenate([u, cross(at - p.c, u) / 1000])
            if first is not None:
                r[first:first + len(own)] = own
            rows.append(r)
        for l in self.job.links:
            a, b = p.bar(l)
            row(unit(b - a), b)
        for a in self.job.arms:
            if not a.radius:
                for f in a.frame:
                    at = p.axle(a.axle[0])
                    row(unit(at - f), at)
        for i, k in enumerate(self.job.rockers):
            for rod in k.rods:
                a, b = p.bar(rod)
                u = unit(b - a)
                own = cross(p.turn(k.on) @ k.axis, a - p.held(k.on, k.pivot)) @ u  # along the rod, of the rocker's end
                row(u, b if k.on == "frame" else a, 1.0 if k.on == "frame" else -1.0, 6 + i, [-own])
        for n, i in enumerate(arms):
            a, first = self.job.arms[i], 6 + len(self.job.rockers) + 6 * n
            at, turn = p.arms[i]
            for k, pivot in enumerate(a.frame + a.axle):
                own = at + turn @ (pivot - a.frame[0])
                for u in np.eye(3):
                    row(u, None if k == 0 else p.axle(pivot), -1.0, first, np.concatenate([u, cross(own - at, u) / 1000]))
        up = np.array([0, 0, 1.0])
        for side in (1, -1):
            row(up, p.c + side * self.job.track / 2 * p.r[:, 1])
        m = np.array(rows)
        axle, rest = m[:, :6], m[:, 6:]
        if rest.shape[1]:
            q = np.linalg.svd(rest, full_matrices=False)
            q = q[0][:, q[1] > 1e-12]
            axle = axle - q @ (q.T @ axle)
        _, values, motions = np.linalg.svd(axle)
        return values[-1], motions[-1]
