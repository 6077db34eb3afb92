#!/usr/bin/env python3
"""Times the library on one net in each of its modes and compares the best with what belief_bench said.

usage: library_times.py NET.json BENCH.json

Modes: noisy-ORs as plain tables or as OR chains; Shafer-Shenoy or lazy propagation. One thread, CPU time, only the
causes as targets so that the library can prune, three warm-ups. Worth of a question: one inference per outcome but the
last, whose part follows by total probability; the probability of an outcome is either asked for first (one more
inference) or taken from the probability of the evidence. The posteriors of a mode, and the worths of each of the first
three cases, are computed in a process of their own, which is ended after 60 s or at 6 GiB. What counts for the library:
of the posteriors the mode with the lowest median over all cases; of the worths the fastest mode of each case.
"""
import json
import math
import multiprocessing
import resource
import statistics
import sys
import time

import numpy as np
import pyagrum as gum

LIMIT = 1e-9
SECONDS = 60
WORTH_CASES = 3
WARM_UPS = 3
BYTES = 6 << 30


def bins_of(node, edges, shift):
    """Probabilities of a reading's bins at a shift."""
    below = [0.5 * (1 + math.erf((edge - shift) / node["sigma"] / math.sqrt(2))) for edge in edges]
    return np.diff([0.0, *below, 1.0]).tolist()


def tables(net, chains):
    """The net as the library takes it."""
    nodes, made = net["nodes"], gum.BayesNet()

    def add(name, parents, rows, states=2):
        """Rows: probabilities of the states; the first parent changes fastest."""
        made.add(gum.RangeVariable(name, name, 0, states - 1))
        for parent in parents:
            made.addArc(parent, name)
        made.cpt(name).fillWith(np.asarray(rows).ravel().tolist())

    for node in nodes:
        names = [nodes[parent]["name"] for parent in node["parents"]]
        states = [[index >> bit & 1 for bit in range(len(names))] for index in range(2 ** len(names))]
        if node["kind"] == "R":
            rows = [bins_of(node, net["bins"], np.dot(node["shift"], state)) for state in states]
            add(node["name"], names, rows, len(net["bins"]) + 1)
        elif not chains or len(names) <= 2:
            absent = [(1 - node["leak"]) * math.prod(1 - w for w, s in zip(node["w"], state) if s) for state in states]
            add(node["name"], names, [[no, 1 - no] for no in absent])
        else:
            before = None
            for step, (parent, w) in enumerate(zip(names, node["w"])):
                name = node["name"] if step + 1 == len(names) else f"{node['name']}_o{step}"
                keep = 1 - node["leak"]
                if before is None:
                    add(name, [parent], [[keep, 1 - keep], [keep * (1 - w), 1 - keep * (1 - w)]])
                else:
                    add(name, [parent, before], [[1, 0], [1 - w, w], [0, 1], [0, 1]])
                before = name
    return made


def engine_of(kind, made, evidence, targets):
    engine = (gum.LazyPropagation if kind == "lazy" else gum.ShaferShenoyInference)(made)
    engine.setNumberOfThreads(1)
    engine.setTargets(set(targets))
    engine.setEvidence(evidence)
    return engine


def present(engine, causes):
    return np.array([engine.posterior(cause)[1] for cause in causes])


def entropy(chances):
    inside = chances[(chances > 0) & (chances < 1)]
    return float(-(inside * np.log2(inside) + (1 - inside) * np.log2(1 - inside)).sum())


def posteriors(kind, made, cases, causes, pipe):
    """Sends per case: its number, posteriors, CPU seconds, CPU seconds of the inference alone."""
    for number, evidence in [(None, cases[0])] * WARM_UPS + list(enumerate(cases)):
        start = time.process_time()
        engine = engine_of(kind, made, evidence, causes)
        before = time.process_time()
        engine.makeInference()
        alone = time.process_time() - before
        result = present(engine, causes)
        taken = time.process_time() - start
        if number is not None:
            pipe.send((number, result.tolist(), taken, alone))


def worth(kind, made, evidence, causes, questions, ask_first):
    """Expected drop of the causes' summed entropy per question."""
    engine = engine_of(kind, made, evidence, causes)
    engine.makeInference()
    now, given = present(engine, causes), engine.evidenceProbability()
    asked = engine_of(kind, made, evidence, ()) if ask_first else None
    worths = {}
    for question, states in questions:
        if ask_first:
            asked.setTargets({question})
            asked.makeInference()
            chances = asked.posterior(question).tolist()
        else:
            chances = None
        rest, rest_chance, left = now.copy(), 1.0, 0.0
        for state in range(states - 1):
            (engine.chgEvidence if state else engine.addEvidence)(question, state)
            engine.makeInference()
            chance = chances[state] if ask_first else engine.evidenceProbability() / given
            after = present(engine, causes)
            left += chance * entropy(after)
            rest -= chance * after
            rest_chance -= chance
        engine.eraseEvidence(question)
        if rest_chance > 1e-12:
            left += rest_chance * entropy(np.clip(rest / rest_chance, 0, 1))
        worths[question] = entropy(now) - left
    return worths


def worth_time(kind, made, evidence, causes, questions, ask_first, pipe):
    """Sends the worths of one case and the CPU seconds they took."""
    for _ in range(WARM_UPS):
        worth(kind, made, evidence, causes, questions[:1], ask_first)
    start = time.process_time()
    result = worth(kind, made, evidence, causes, questions, ask_first)
    pipe.send((result, time.process_time() - start))


def limited(work, arguments, pipe):
    resource.setrlimit(resource.RLIMIT_AS, (BYTES, BYTES))
    gum.setNumberOfThreads(1)
    try:
        work(*arguments, pipe)
    except Exception as error:  # the library's own, for want of memory among others
        pipe.send(f"{type(error).__name__} {error}"[:80])
    pipe.send(None)


def collect(work, arguments):
    """What a process of its own has sent within the time, and why it ended early."""
    receive, send = multiprocessing.Pipe(duplex=False)
    child = multiprocessing.Process(target=limited, args=(work, arguments, send))
    child.start()
    send.close()
    end, found, trouble = time.monotonic() + SECONDS, [], ""
    try:
        while receive.poll(max(0.0, end - time.monotonic())):
            message = receive.recv()
            if message is None:
                return found, trouble
            if isinstance(message, str):
                trouble = message
            else:
                found.append(message)
        return found, f"ended after {SECONDS} s"
    except EOFError:
        return found, "ran out of memory"
    finally:
        child.kill()
        child.join()


def line(label, seconds, trouble=""):
    if not seconds:
        return f"  {label:<44} none finished  {trouble}"
    ms = [1000 * second for second in seconds]
    p95 = float(np.percentile(ms, 95))
    return (f"  {label:<44} median {statistics.median(ms):9.2f}  p95 {p95:9.2f}  max {max(ms):9.2f} ms  "
            f"n={len(ms)}  {trouble}")


def largest(values):
    """The largest difference; a value that is not a number counts as infinite."""
    return max((math.inf if math.isnan(value) else value for value in values), default=0.0)


def main():
    path, bench_path = sys.argv[1:3]
    multiprocessing.set_start_method("fork")
    net = json.load(open(path, encoding="utf-8"))
    bench = json.load(open(bench_path, encoding="utf-8"))
    nodes = net["nodes"]
    causes = [node["name"] for node in nodes if node["kind"] == "C"]
    cases = [{nodes[int(at)]["name"]: state for at, state in case["ev"].items()} for case in net["cases"]]
    open_nodes = [node for node in nodes if node["kind"] in "FR" and node["parents"]]

    def questions(evidence):
        states = {"F": 2, "R": len(net["bins"]) + 1}
        return [(node["name"], states[node["kind"]]) for node in open_nodes if node["name"] not in evidence]

    print(f"{path}: {len(causes)} causes, {len(cases)} cases, {len(questions(cases[0]))} questions open in the first")
    posterior_medians, differences, worth_differences = [], [], []
    fastest = [[] for _ in range(WORTH_CASES)]
    for shape in ("full", "dec"):
        start = time.process_time()
        made = tables(net, shape == "dec")
        print(f"  {shape}: built in {time.process_time() - start:.1f} s", flush=True)
        for kind in ("ss", "lazy"):
            found, trouble = collect(posteriors, (kind, made, cases, causes))
            for number, result, _, _ in found:
                ours = bench["cases"][number]["posteriors"]
                assert len(ours) == len(result), "the causes are not the same"
                differences += [abs(a - b) for a, b in zip(ours, result)]
            print(line(f"{shape} {kind} posteriors", [times[2] for times in found], trouble))
            print(line(f"{shape} {kind} posteriors, makeInference alone", [times[3] for times in found]), flush=True)
            if len(found) == len(cases):
                posterior_medians.append(1000 * statistics.median(times[2] for times in found))
            for ask_first in (True, False):
                times, troubles = [], []
                for number, evidence in enumerate(cases[:WORTH_CASES]):
                    arguments = (kind, made, evidence, causes, questions(evidence), ask_first)
                    found, trouble = collect(worth_time, arguments)
                    troubles += [f"case {number} {trouble}"] if trouble else []
                    for result, taken in found:
                        ours = bench["cases"][number]["worths"]
                        assert ours.keys() == result.keys(), "the questions are not the same"
                        worth_differences += [abs(ours[name] - result[name]) for name in result]
                        times.append(taken)
                        fastest[number].append(1000 * taken)
                label = f"{shape} {kind} worths, outcomes " + ("asked" if ask_first else "from P(evidence)")
                print(line(label, times, "; ".join(troubles)), flush=True)
    for label, values in (("posteriors", differences), ("worths", worth_differences)):
        print(f"  {label}: {len(values)} values compared, largest difference {largest(values):.1e}")
    if not differences or largest(differences + worth_differences) > LIMIT:
        sys.exit("  the values do not agree to 1e-9: no ratio is given")
    worths = [min(times) for times in fastest if times]
    ratio("posteriors", [min(posterior_medians)] if posterior_medians else [], bench["posterior_ms_median"])
    ratio(f"worths ({len(worths)} cases)", worths, bench["worth_ms_median"])


def ratio(label, library, own):
    if library:
        best = statistics.median(library)
        print(f"  {label}: library's best {best:.2f} ms, ours {own:.3f} ms, ratio {best / own:.0f}")
    else:
        print(f"  {label}: no mode of the library finished; ours {own:.3f} ms")


main()
