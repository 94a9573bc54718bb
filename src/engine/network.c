/* network.c - the equations of a network and Newton's method on them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/network.h"

#include <math.h>
#include <string.h>

#include "engine/network_plan.h"

/*
 * The equations.
 *
 * A DC node has two unknowns, p and n: volts of its positive and negative side against earth. A run from a
 * to b has an out conductor and a back conductor, which need not be alike:
 *
 *   out   (pa - pb)/Ro      back   (na - nb)/Rb
 *
 * so the block of a run is diagonal. What hangs between the two sides of a node draws I from p and returns
 * it to n, with I = P/V, I or V/R at V = p - n; a bank draws (V - E)/Ri, which is negative when it gives.
 * Kirchhoff's law at both sides of every node is the residual; Newton's method drives it to 0.
 *
 * An AC node has one phasor x + jy as its two unknowns, and a run the admittance 1/(R + jX) as a real 2 x 2
 * block. A load of P and Q = P tan phi draws I = (P - jQ)(x + jy)/|V|2.
 *
 * Earth: DC volts are fixed only up to a common shift in each part that hangs together, so one node of each
 * has its negative side held at 0 (add_earths). No current flows there, because nothing else is tied to
 * earth.
 *
 * Collapse: constant power has two solutions or none. Started from the source's volts, the method comes down
 * to the upper one; where there is none the volts of some load fall until no stable point can lie below
 * them, and that is the answer.
 *
 * Left out: inductance of DC runs, for everything here is steady.
 */

const double net_least_ohm = 1e-8;

/* A load whose volts fall under this share of the source's has lost its footing: no stable point lies below.
 */
static const double COLLAPSED = 0.02;
static const int MOST_ROUNDS = 80;
static const double CONVERGED = 1e-11; /* of the largest source voltage */

struct net_run net_run_dc(size_t a, size_t b, double out_ohm, double back_ohm)
{
    struct net_run run = { .a = a, .b = b };

    run.y[0] = 1 / fmax(out_ohm, net_least_ohm);
    run.y[3] = 1 / fmax(back_ohm, net_least_ohm);
    return run;
}

struct net_run net_run_ac(size_t a, size_t b, double ohm, double reactance_ohm)
{
    double r = fmax(ohm, net_least_ohm), square = r * r + reactance_ohm * reactance_ohm;
    double g = r / square, s = -reactance_ohm / square;

    return (struct net_run){ a, b, { g, -s, s, g } };
}

double net_volts(const struct net *net, const double *state, size_t node)
{
    const double *v = state + 2 * node;

    return net->system == NET_DC ? v[0] - v[1] : hypot(v[0], v[1]);
}

/* The current a load draws as a pair, and its derivative by the pair of volts. */
struct draw {
    double i[2], j[4];
};

/* Between the two sides: what flows into the positive side flows out of the negative one. */
static struct draw across(double current, double slope)
{
    return (struct draw){ { current, -current }, { slope, -slope, -slope, slope } };
}

/* Current of a DC load at its volts, and its slope: P/V and -P/V2; I and 0; V/R and 1/R. */
static struct draw draw_dc(const struct net_load *load, double volts)
{
    switch (load->behaves) {
    case NET_POWER:
        return across(load->value / volts, -load->value / (volts * volts));
    case NET_CURRENT:
        return across(load->value, 0);
    case NET_RESISTANCE:
        break;
    }
    return across(volts / load->value, 1 / load->value);
}

/* Power P + jQ at x + jy: I = (P - jQ)(x + jy)/|V|^2. */
static struct draw draw_ac_power(double p, double q, double x, double y)
{
    double s = x * x + y * y, re = p * x + q * y, im = p * y - q * x;

    return (struct draw){ { re / s, im / s },
                          { p / s - 2 * x * re / (s * s), q / s - 2 * y * re / (s * s),
                            -q / s - 2 * x * im / (s * s), p / s - 2 * y * im / (s * s) } };
}

/* A current keeps its length and its angle to the volts: as power |V| I cos phi. */
static struct draw draw_ac_current(const struct net_load *load, double x, double y)
{
    double volts = hypot(x, y), cosine = 1 / sqrt(1 + load->reactive_share * load->reactive_share);
    double p = load->value * cosine, q = p * load->reactive_share;
    double c = volts * volts * volts, re = p * x + q * y, im = p * y - q * x;

    return (struct draw){ { re / volts, im / volts },
                          { p / volts - x * re / c, q / volts - y * re / c, -q / volts - x * im / c,
                            p / volts - y * im / c } };
}

/* Any load at the pair of volts v of its node. */
static struct draw draw_of(const struct net *net, const struct net_load *load, const double *v)
{
    double g;

    if (net->system == NET_DC)
        return draw_dc(load, v[0] - v[1]);
    if (load->behaves == NET_POWER)
        return draw_ac_power(load->value, load->value * load->reactive_share, v[0], v[1]);
    if (load->behaves == NET_CURRENT)
        return draw_ac_current(load, v[0], v[1]);
    g = 1 / load->value;
    return (struct draw){ { g * v[0], g * v[1] }, { g, 0, 0, g } };
}

/* What a source gives at its node, and its block of admittance. */
static struct draw give_of(const struct net *net, const struct net_source *source, const double *v)
{
    struct net_run inner;
    double g, x, y;

    if (net->system == NET_DC) {
        g = 1 / fmax(source->ohm, net_least_ohm);
        return across(g * (v[0] - v[1] - source->emf_v), g);
    }
    inner = net_run_ac(0, 0, source->ohm, source->reactance_ohm);
    x = v[0] - source->emf_v;
    y = v[1];
    return (struct draw){ { inner.y[0] * x + inner.y[1] * y, inner.y[2] * x + inner.y[3] * y },
                          { inner.y[0], inner.y[1], inner.y[2], inner.y[3] } };
}

/* Into the right side and the Jacobian of its node. */
static void add_draw(struct net_plan *plan, size_t node, const struct draw *d)
{
    for (int i = 0; i < 2; i++)
        plan->rhs[2 * node + (size_t)i] -= d->i[i];
    for (int i = 0; i < 4; i++)
        plan->diagonal[4 * node + (size_t)i] += d->j[i];
}

/* Currents and admittances of all runs. A run from a node to itself carries nothing. */
static void add_runs(struct net_plan *plan, const struct net *net, const double *state)
{
    for (size_t r = 0; r < net->run_count; r++) {
        const struct net_run *run = &net->runs[r];
        const double *va = state + 2 * run->a, *vb = state + 2 * run->b;
        size_t edge = plan->edge_of_run[r];

        if (run->a == run->b)
            continue;
        for (int i = 0; i < 2; i++) {
            double flow = run->y[2 * i] * (va[0] - vb[0]) + run->y[2 * i + 1] * (va[1] - vb[1]);

            plan->rhs[2 * run->a + (size_t)i] -= flow;
            plan->rhs[2 * run->b + (size_t)i] += flow;
        }
        for (size_t i = 0; i < 4; i++) {
            plan->diagonal[4 * run->a + i] += run->y[i];
            plan->diagonal[4 * run->b + i] += run->y[i];
            plan->upper[4 * edge + i] -= run->y[i];
            plan->lower[4 * edge + i] -= run->y[i];
        }
    }
}

/* Fixes the common volts of each part that hangs together; no current flows there. */
static void add_earths(struct net_plan *plan, const struct net *net, const double *state)
{
    for (size_t i = 0; i < net->node_count && net->system == NET_DC; i++)
        if (plan->earthed[i]) {
            plan->rhs[2 * i + 1] -= state[2 * i + 1];
            plan->diagonal[4 * i + 3] += 1;
        }
}

/* Jacobian and residual at a state; without loads where asked. */
static void assemble(struct net_plan *plan, const struct net *net, const double *state, int loads)
{
    net_plan_clear(plan);
    add_runs(plan, net, state);
    add_earths(plan, net, state);
    for (size_t i = 0; i < net->source_count; i++) {
        struct draw d = give_of(net, &net->sources[i], state + 2 * net->sources[i].node);

        add_draw(plan, net->sources[i].node, &d);
    }
    for (size_t i = 0; loads && i < net->load_count; i++) {
        struct draw d = draw_of(net, &net->loads[i], state + 2 * net->loads[i].node);

        if (net->loads[i].value != 0)
            add_draw(plan, net->loads[i].node, &d);
    }
}

/* [V] what volts are measured against. */
static double largest_emf(const struct net *net)
{
    double emf = 0;

    for (size_t i = 0; i < net->source_count; i++)
        emf = fmax(emf, net->sources[i].emf_v);
    return emf;
}

/* 0 where a load with a wish has next to no volts left, or more than that of the wrong sign. */
static int on_its_feet(const struct net *net, const double *state, double emf)
{
    for (size_t i = 0; i < net->load_count; i++)
        if (net->loads[i].value > 0 && !(net_volts(net, state, net->loads[i].node) > COLLAPSED * emf))
            return 0;
    return 1;
}

/* Full Newton steps from above: on a radial net the volts come down to the upper, stable solution, and where
 * there is none they fall through COLLAPSED within a few rounds. */
enum status net_solve(struct net_plan *plan, const struct net *net, double *state, int start)
{
    double emf = largest_emf(net);

    for (size_t i = 0; !start && i < net->node_count; i++) {
        state[2 * i] = emf;
        state[2 * i + 1] = 0;
    }
    for (int round = 0; round < MOST_ROUNDS; round++) {
        double largest = 0;

        if (!on_its_feet(net, state, emf))
            return STATUS_NO_SOLUTION;
        assemble(plan, net, state, 1);
        if (!net_plan_factor(plan))
            return STATUS_NO_SOLUTION;
        net_plan_substitute(plan, plan->rhs);
        for (size_t i = 0; i < 2 * net->node_count; i++) {
            state[i] += plan->rhs[i];
            largest = fmax(largest, fabs(plan->rhs[i]));
        }
        if (!isfinite(largest))
            return STATUS_NO_SOLUTION;
        if (largest <= CONVERGED * emf)
            return on_its_feet(net, state, emf) ? STATUS_OK : STATUS_NO_SOLUTION;
    }
    return STATUS_NO_SOLUTION;
}

struct net_current net_run_current(const struct net *net, const double *state, const struct net_run *run)
{
    const double *va = state + 2 * run->a, *vb = state + 2 * run->b;
    double first = run->y[0] * (va[0] - vb[0]) + run->y[1] * (va[1] - vb[1]);
    double second = run->y[2] * (va[0] - vb[0]) + run->y[3] * (va[1] - vb[1]);

    if (net->system == NET_DC)
        return (struct net_current){ first, -second };
    return (struct net_current){ hypot(first, second), hypot(first, second) };
}

double net_run_power_factor(const struct net *net, const double *state, const struct net_run *run)
{
    const double *va = state + 2 * run->a, *vb = state + 2 * run->b;
    double first = run->y[0] * (va[0] - vb[0]) + run->y[1] * (va[1] - vb[1]);
    double second = run->y[2] * (va[0] - vb[0]) + run->y[3] * (va[1] - vb[1]);
    double size = hypot(first, second) * hypot(vb[0], vb[1]);

    if (net->system == NET_DC || size <= 0)
        return 1;
    return fmin(1, fabs(first * vb[0] + second * vb[1]) / size);
}

double net_load_current(const struct net *net, const double *state, const struct net_load *load)
{
    struct draw d = draw_of(net, load, state + 2 * load->node);

    if (load->value == 0)
        return 0;
    return net->system == NET_DC ? d.i[0] : hypot(d.i[0], d.i[1]);
}

double net_source_current(const struct net *net, const double *state, const struct net_source *source)
{
    struct draw d = give_of(net, source, state + 2 * source->node);

    return net->system == NET_DC ? -d.i[0] : hypot(d.i[0], d.i[1]);
}

/* At volts of 0 and without loads the Jacobian is the admittance alone. */
enum status net_fault_ohm(struct net_plan *plan, const struct net *net, double *ohm)
{
    memset(plan->state, 0, 2 * net->node_count * sizeof *plan->state);
    assemble(plan, net, plan->state, 0);
    if (!net_plan_factor(plan) || !net_plan_invert(plan))
        return STATUS_NO_SOLUTION;
    for (size_t i = 0; i < net->node_count; i++) {
        const double *z = plan->inverse + 4 * i;

        ohm[i] = net->system == NET_DC ? z[0] - z[1] - z[2] + z[3] : hypot(z[0], z[2]);
    }
    return STATUS_OK;
}

/* The net with one load's power (or all of them) multiplied. */
static enum status solve_scaled(struct net_plan *plan, const struct net *net, size_t which, double factor,
                                double *state)
{
    struct net scaled = *net;

    for (size_t i = 0; i < net->load_count; i++) {
        plan->scaled[i] = net->loads[i];
        if ((which == i || which == net->load_count) && net->loads[i].behaves == NET_POWER)
            plan->scaled[i].value *= factor;
    }
    scaled.loads = plan->scaled;
    return net_solve(plan, &scaled, state, 0);
}

double net_most(struct net_plan *plan, const struct net *net, size_t which, double *state)
{
    double low = 0, high = 1;

    if (solve_scaled(plan, net, which, 1, state) == STATUS_OK)
        return 1;
    if (solve_scaled(plan, net, which, 0, state) != STATUS_OK)
        return -1;
    while (high - low > 1e-9 * high) {
        double middle = (low + high) / 2;

        if (solve_scaled(plan, net, which, middle, state) == STATUS_OK)
            low = middle;
        else
            high = middle;
        if (high < 1e-9)
            break;
    }
    solve_scaled(plan, net, which, low, state);
    return low;
}
