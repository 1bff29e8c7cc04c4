"""The reference problem with SciPy, on exactly the network of this program: same cells, same
conductances, enthalpy as the state, analytic sparse Jacobian on a pattern made once.

    peers.py NETWORK OUTPUT METHOD [NUMBER]

NETWORK is what `bench_network write` made. METHOD: bdf (NUMBER: rtol), euler or banded (NUMBER:
steps a day). Prints CPU seconds and counts; OUTPUT takes the enthalpies of the last year's
evenings for `bench_network judge`."""
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import solve_banded
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

DAY = 86400.0
DAYS = 1095


def outside(t):
    return 3.0 - 16.0 * np.cos(2.0 * np.pi * (273.0 + t / DAY - 20.0) / 365.0)


class Network:
    def __init__(self, path):
        rows = {}
        for line in open(path):
            key, *rest = line.split()
            rows.setdefault(key, []).append([float(x) for x in rest])
        node = np.array(rows["node"])
        self.n = len(node)
        self.volume = np.where(node[:, 1] > 0, node[:, 1], 1.0)
        self.start = node[:, 2]
        self.laws(rows["material"], node[:, 0].astype(int))
        face, link, top = np.array(rows["face"]), np.array(rows["link"]), np.array(rows["top"])
        bottom = np.array(rows["bottom"])
        self.fa, self.fb, self.fg = face[:, 0].astype(int), face[:, 1].astype(int), face[:, 2]
        self.la, self.lb, self.area = link[:, 0].astype(int), link[:, 1].astype(int), link[:, 2]
        self.l1, self.l2 = link[:, 3], link[:, 5]
        self.tc, self.ta, self.th = top[:, 0].astype(int), top[:, 1], top[:, 2]
        self.face_k = self.constants(face[:, 3])
        self.side1, self.side2 = self.constants(link[:, 4]), self.constants(link[:, 6])
        self.top_k = self.constants(top[:, 3])
        self.bottom = np.bincount(bottom[:, 0].astype(int), bottom[:, 1], self.n)
        self.pattern()

    def laws(self, materials, material):
        """Breakpoints padded to one length: T and H of each node, slopes between them."""
        most = int(max(m[0] for m in materials))
        T, H, k = (np.zeros((len(materials), most)) for _ in range(3))
        for i, m in enumerate(materials):
            body = np.array(m[3:]).reshape(-1, 3)
            pad = most - len(body)
            step = np.arange(pad, 0, -1)
            T[i] = np.r_[body[0, 0] - step, body[:, 0]]
            H[i] = np.r_[body[0, 1] - step * m[1], body[:, 1]]
            k[i] = np.r_[np.full(pad, body[0, 2]), body[:, 2]]
        self.T, self.k = T, k
        self.nT, self.nH = T[material].T.copy(), H[material].T.copy()
        self.cf = np.array([m[1] for m in materials])[material]
        self.cu = np.array([m[2] for m in materials])[material]
        self.slope = np.diff(self.nT, axis=0) / np.diff(self.nH, axis=0)

    def constants(self, material):
        """T0, T1, k frozen, k thawed, dk/dT of one freezing range for each material named."""
        m = material.astype(int)
        t0, t1, kf, ku = self.T[m, -2], self.T[m, -1], self.k[m, -2], self.k[m, -1]
        return t0, t1, kf, ku, (ku - kf) / (t1 - t0)

    def temperature(self, H):
        T = self.nT[-1] + np.maximum(H, 0) / self.cu + np.minimum(H - self.nH[0], 0) / self.cf
        for low, high, slope in zip(self.nH, self.nH[1:], self.slope):
            T += (np.minimum(np.maximum(H, low), high) - high) * slope
        return T

    def enthalpy(self, T):
        H = np.maximum(T - self.nT[-1], 0) * self.cu + np.minimum(T - self.nT[0], 0) * self.cf
        for low, high, slope in zip(self.nT, self.nT[1:], self.slope):
            H += (np.minimum(np.maximum(T, low), high) - high) / slope
        return H

    def dT_dH(self, H):
        out = np.where(H >= 0, 1 / self.cu, 1 / self.cf)
        for low, high, slope in zip(self.nH, self.nH[1:], self.slope):
            out = np.where((H >= low) & (H < high), slope, out)
        return out

    @staticmethod
    def conductivity(c, T):
        return c[2] + (np.minimum(np.maximum(T, c[0]), c[1]) - c[0]) * c[4]

    @staticmethod
    def U(c, T):
        mid = np.minimum(np.maximum(T, c[0]), c[1]) - c[1]
        return (c[3] * np.maximum(T - c[1], 0) + mid * (c[3] + 0.5 * c[4] * mid)
                + c[2] * np.minimum(T - c[0], 0))

    def secant(self, c, a, b):
        d = a - b
        d = np.where(np.abs(d) < 1e-6, 1e-6, d)
        return (self.U(c, b + d) - self.U(c, b)) / d

    def link_g(self, T):
        a, b = T[self.la], T[self.lb]
        return self.area / (self.l1 / self.secant(self.side1, a, b)
                            + self.l2 / self.secant(self.side2, a, b))

    def top_g(self, T, t):
        here = T[self.tc]
        half = self.th / self.conductivity(self.top_k, here)
        surface = outside(t) + (here - outside(t)) * (1 / 15) / (1 / 15 + half)
        return self.ta / (1 / 15 + self.th / self.secant(self.top_k, surface, here))

    def conductances(self, T, t):
        return self.link_g(T), self.top_g(T, t)

    def flow(self, T, t, g):
        q = np.concatenate((self.fg * (self.U(self.face_k, T[self.fa])
                                       - self.U(self.face_k, T[self.fb])),
                            g[0] * (T[self.la] - T[self.lb])))
        W = self.bottom - np.bincount(self.pa, q, self.n) + np.bincount(self.pb, q, self.n)
        W[self.tc] += g[1] * (outside(t) - T[self.tc])
        return W

    def pattern(self):
        """Compressed columns once: where each entry goes, and a matrix to be filled again."""
        self.pa, self.pb = np.r_[self.fa, self.la], np.r_[self.fb, self.lb]
        every = np.arange(self.n)
        row = np.r_[self.pa, self.pb, self.pb, self.pa, self.tc, every]
        col = np.r_[self.pa, self.pb, self.pa, self.pb, self.tc, every]
        key, self.place = np.unique(col * self.n + row, return_inverse=True)
        self.row, self.col = key % self.n, key // self.n
        start = np.searchsorted(self.col, np.arange(self.n + 1))
        self.matrix = csc_matrix((np.zeros(len(key)), self.row, start), (self.n, self.n))
        self.band = int(np.abs(self.row - self.col).max())

    def entries(self, T, g, diagonal):
        """-dW/dT plus a diagonal, in the order of the pattern."""
        ga = np.concatenate((self.fg * self.conductivity(self.face_k, T[self.fa]), g[0]))
        gb = np.concatenate((self.fg * self.conductivity(self.face_k, T[self.fb]), g[0]))
        value = np.concatenate((ga, gb, -ga, -gb, g[1], diagonal))
        return np.bincount(self.place, value, len(self.row))

    def rate(self, t, H):
        T = self.temperature(H)
        return self.flow(T, t, self.conductances(T, t)) / self.volume

    def jacobian(self, t, H):
        T = self.temperature(H)
        value = self.entries(T, self.conductances(T, t), np.zeros(self.n))
        value *= -self.dT_dH(H)[self.col] / self.volume[self.row]
        return csc_matrix((value, self.matrix.indices, self.matrix.indptr), (self.n, self.n))


def sparse_solver(net):
    def solve(value, right):
        net.matrix.data = value
        return splu(net.matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                    options={"SymmetricMode": True}).solve(right)
    return solve


def band_solver(net):
    table = np.zeros((2 * net.band + 1, net.n))
    at = (net.band + net.row - net.col, net.col)

    def solve(value, right):
        table[at] = value
        return solve_banded((net.band, net.band), table, right, check_finite=False)
    return solve


def euler(net, solve, per_day):
    """Backward Euler, Newton in temperature with a fresh matrix, as the kinks of T(H) want."""
    T = net.start.copy()
    H = net.enthalpy(T)
    step = DAY / per_day
    series, count = [], 0
    for k in range(1, DAYS * per_day + 1):
        old, change = H, np.inf
        while change > 1e5:
            g = net.conductances(T, k * step)
            left = net.flow(T, k * step, g) - net.volume * (H - old) / step
            T = T + solve(net.entries(T, g, net.volume / net.dT_dH(H) / step), left)
            new = net.enthalpy(T)
            change = np.abs(new - H).max()
            H = new
            count += 1
        if k % per_day == 0 and k // per_day >= DAYS - 365:
            series.append(H)
    return np.array(series), f"{count} factorisations"


def bdf(net, rtol):
    days = np.arange(DAYS - 365, DAYS + 1) * DAY
    out = solve_ivp(net.rate, (0, DAYS * DAY), net.enthalpy(net.start), method="BDF",
                    t_eval=days, jac=net.jacobian, rtol=rtol, atol=rtol * 3e8,
                    max_step=5 * DAY)
    return out.y.T, f"{out.nfev} rates, {out.njev} Jacobians, {out.nlu} factorisations"


def main(path, output, method, number="1"):
    net = Network(path)
    start = time.process_time()
    if method == "bdf":
        series, note = bdf(net, float(number))
    else:
        solver = sparse_solver if method == "euler" else band_solver
        series, note = euler(net, solver(net), int(number))
    seconds = time.process_time() - start
    print(f"SciPy {method} {number}: {seconds:.2f} s, {note}", flush=True)
    np.ascontiguousarray(series).tofile(output)


main(*sys.argv[1:])
