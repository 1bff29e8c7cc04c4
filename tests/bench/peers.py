"""The reference problem with SciPy, on exactly the network of this program: same cells, same
conductances, enthalpy as the state. Reads what `bench_reference --export` wrote. Prints one line a
method: seconds, steps, errors against the fine solution."""
import csv
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

DAY = 86400.0
DAYS = 1095


def outside(day):
    return 3.0 - 16.0 * np.cos(2.0 * np.pi * (273.0 + day - 20.0) / 365.0)


class Network:
    def __init__(self, path):
        rows = {}
        for line in open(path):
            key, *rest = line.split()
            rows.setdefault(key, []).append([float(x) for x in rest])
        node = np.array(rows["node"])
        self.material = node[:, 0].astype(int)
        self.volume = np.where(node[:, 1] > 0, node[:, 1], 1.0)
        self.start = node[:, 2]
        self.n = len(node)
        self.laws(rows["material"])
        face = np.array(rows["face"])
        self.fa, self.fb, self.fg = face[:, 0].astype(int), face[:, 1].astype(int), face[:, 2]
        self.fm = face[:, 3].astype(int)
        link = np.array(rows["link"])
        self.la, self.lb, self.area = link[:, 0].astype(int), link[:, 1].astype(int), link[:, 2]
        self.l1, self.m1 = link[:, 3], link[:, 4].astype(int)
        self.l2, self.m2 = link[:, 5], link[:, 6].astype(int)
        top = np.array(rows["top"])
        self.tc, self.ta, self.th = top[:, 0].astype(int), top[:, 1], top[:, 2]
        self.tm = top[:, 3].astype(int)
        bottom = np.array(rows["bottom"])
        self.bottom = np.zeros(self.n)
        self.bottom[bottom[:, 0].astype(int)] = bottom[:, 1]
        column = np.array(rows["column"])
        self.column, self.z = column[:, 0].astype(int), column[:, 1]
        self.crown = int(rows["crown"][0][0])
        self.pattern()

    def laws(self, materials):
        """Breakpoints padded to one length: T and H of each material, slopes outside."""
        most = int(max(m[0] for m in materials))
        count = len(materials)
        self.T = np.zeros((count, most))
        self.H = np.zeros((count, most))
        self.k = np.zeros((count, most))
        self.cf = np.array([m[1] for m in materials])
        self.cu = np.array([m[2] for m in materials])
        for i, m in enumerate(materials):
            body = np.array(m[3:]).reshape(-1, 3)
            pad = most - len(body)
            step = np.arange(pad, 0, -1)
            self.T[i] = np.r_[body[0, 0] - step, body[:, 0]]
            self.H[i] = np.r_[body[0, 1] - step * m[1], body[:, 1]]
            self.k[i] = np.r_[np.full(pad, body[0, 2]), body[:, 2]]
        self.nT, self.nH = self.T[self.material], self.H[self.material]
        self.ncf, self.ncu = self.cf[self.material], self.cu[self.material]
        self.slope = np.diff(self.nT, axis=1) / np.diff(self.nH, axis=1)
        two = self.T[:, -2:]
        self.t0, self.t1 = two[:, 0], two[:, 1]
        self.kf, self.ku = self.k[:, -2], self.k[:, -1]

    def temperature(self, H):
        h = H[:, None]
        inside = np.clip(h, self.nH[:, :-1], self.nH[:, 1:]) - self.nH[:, 1:]
        return (self.nT[:, -1] + np.maximum(H, 0) / self.ncu + (inside * self.slope).sum(1)
                + np.minimum(H - self.nH[:, 0], 0) / self.ncf)

    def enthalpy(self, T):
        t = T[:, None]
        inside = np.clip(t, self.nT[:, :-1], self.nT[:, 1:]) - self.nT[:, 1:]
        return (np.maximum(T - self.nT[:, -1], 0) * self.ncu + (inside / self.slope).sum(1)
                + np.minimum(T - self.nT[:, 0], 0) * self.ncf)

    def dT_dH(self, H):
        low = (H[:, None] >= self.nH[:, :-1]) & (H[:, None] < self.nH[:, 1:])
        return np.where(H >= 0, 1 / self.ncu,
                        np.where(H < self.nH[:, 0], 1 / self.ncf, (low * self.slope).sum(1)))

    def conductivity(self, m, T):
        share = np.clip((T - self.t0[m]) / (self.t1[m] - self.t0[m]), 0, 1)
        return self.kf[m] + share * (self.ku[m] - self.kf[m])

    def U(self, m, T):
        up = np.maximum(T - self.t1[m], 0)
        mid = np.clip(T, self.t0[m], self.t1[m]) - self.t1[m]
        low = np.minimum(T - self.t0[m], 0)
        dk = (self.ku[m] - self.kf[m]) / (self.t1[m] - self.t0[m])
        return self.ku[m] * up + mid * (self.ku[m] + 0.5 * dk * mid) + self.kf[m] * low

    def secant(self, m, a, b):
        d = a - b
        near = np.abs(d) < 1e-6
        d = np.where(near, 1.0, d)
        return np.where(near, self.conductivity(m, b), (self.U(m, a) - self.U(m, b)) / d)

    def link_g(self, T):
        a, b = T[self.la], T[self.lb]
        R = self.l1 / self.secant(self.m1, a, b) + self.l2 / self.secant(self.m2, a, b)
        return self.area / R

    def top_g(self, T, t):
        here = T[self.tc]
        half = self.th / self.conductivity(self.tm, here)
        surface = outside(t / DAY) + (here - outside(t / DAY)) * (1 / 15) / (1 / 15 + half)
        return self.ta / (1 / 15 + self.th / self.secant(self.tm, surface, here))

    def flow(self, T, t):
        W = self.bottom.copy()
        q = self.fg * (self.U(self.fm, T[self.fa]) - self.U(self.fm, T[self.fb]))
        g = self.link_g(T)
        ql = g * (T[self.la] - T[self.lb])
        a, b = np.r_[self.fa, self.la], np.r_[self.fb, self.lb]
        both = np.r_[q, ql]
        W -= np.bincount(a, both, self.n)
        W += np.bincount(b, both, self.n)
        W[self.tc] += self.top_g(T, t) * (outside(t / DAY) - T[self.tc])
        return W

    def pattern(self):
        self.pa, self.pb = np.r_[self.fa, self.la], np.r_[self.fb, self.lb]
        self.row = np.r_[self.pa, self.pb, self.pa, self.pb, self.tc]
        self.col = np.r_[self.pa, self.pb, self.pb, self.pa, self.tc]

    def minus_dW_dT(self, T, t):
        g = self.link_g(T)
        ga = np.r_[self.fg * self.conductivity(self.fm, T[self.fa]), g]
        gb = np.r_[self.fg * self.conductivity(self.fm, T[self.fb]), g]
        value = np.r_[ga, gb, -gb, -ga, self.top_g(T, t)]
        return csc_matrix((value, (self.row, self.col)), shape=(self.n, self.n))

    def rate(self, t, H):
        return self.flow(self.temperature(H), t) / self.volume

    def jacobian(self, t, H):
        K = self.minus_dW_dT(self.temperature(H), t)
        J = K.multiply(-1.0 / self.volume[:, None]).multiply(self.dT_dH(H)[None, :])
        return csc_matrix(J)

    def frost(self, T):
        c = T[self.column]
        cold = np.nonzero(c < 0)[0]
        if len(cold) == 0:
            return 0.0
        j = cold[-1]
        return self.z[j] + (self.z[j + 1] - self.z[j]) * c[j] / (c[j] - c[j + 1])

    def crown_degC(self, T):
        i = self.crown
        a, b = T[self.la[i]], T[self.lb[i]]
        k2 = self.secant(self.m2, T[self.la], T[self.lb])[i]
        return b + self.link_g(T)[i] * (a - b) * self.l2[i] / (k2 * self.area[i])


def reference(path):
    rows = list(csv.DictReader(open(path)))
    return (max(float(r["nofoam_frost_bottom_x12_m"]) for r in rows),
            min(float(r["nofoam_T_crown_C"]) for r in rows))


def report(name, net, series, seconds, note, want):
    last = [net.temperature(H) for H in series]
    depth = max(net.frost(T) for T in last) - want[0]
    crown = min(net.crown_degC(T) for T in last) - want[1]
    band = "maximum" if abs(depth) <= 0.02 and abs(crown) <= 0.1 else "none"
    print(f"{name} {seconds:.2f} s, {note}, dmax {100 * depth:+.2f} cm, "
          f"crown {crown:+.3f} K, band {band}", flush=True)


def bdf(net, want):
    start = time.process_time()
    days = np.arange(DAYS - 365, DAYS + 1) * DAY
    out = solve_ivp(net.rate, (0, DAYS * DAY), net.enthalpy(net.start), method="BDF",
                    t_eval=days, jac=net.jacobian, rtol=1e-3, atol=3e5, max_step=5 * DAY)
    report("scipy-bdf", net, out.y.T, time.process_time() - start,
           f"{out.nfev} rates, {out.nlu} factorisations", want)


def euler(net, want, per_day):
    """Backward Euler, Newton in temperature with a fresh matrix."""
    start = time.process_time()
    H = net.enthalpy(net.start)
    T = net.start.copy()
    step = DAY / per_day
    series = []
    factors = 0
    for k in range(DAYS * per_day):
        t = (k + 1) * step
        old = H
        for _ in range(25):
            left = net.flow(T, t) - net.volume * (H - old) / step
            M = net.minus_dW_dT(T, t)
            M.setdiag(M.diagonal() + net.volume / net.dT_dH(H) / step)
            d = splu(M, permc_spec="MMD_AT_PLUS_A", options=dict(SymmetricMode=True)).solve(left)
            factors += 1
            T = T + d
            new = net.enthalpy(T)
            change = np.abs(new - H).max()
            H = new
            if change < 2e4:
                break
        if (k + 1) % per_day == 0 and (k + 1) // per_day >= DAYS - 365:
            series.append(H)
    report("scipy-euler", net, series, time.process_time() - start, f"{factors} factorisations",
           want)


if __name__ == "__main__":
    network = Network(sys.argv[1])
    target = reference(sys.argv[2])
    euler(network, target, 1)
    bdf(network, target)
