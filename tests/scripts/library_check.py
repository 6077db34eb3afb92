#!/usr/bin/env python3
"""Draws evidence sets for one pump family and compares our posteriors of all causes with the library's.

usage: library_check.py FAMILY.bif FAMILY FOLDER_OF_OUR_PROGRAMS SETS SEED

A set is drawn from the exported net itself: one or two causes made present, the rest sampled; a complaint, 2 to 9 more
answers and up to 3 readings in a band. The library: one thread, only the causes as targets, Shafer-Shenoy. A set that
it cannot do in 60 s and 4 GiB loses its last answer and is tried again; one that loses all is replaced. Sets without
readings are also asked of `weephole rank --json`, the program itself.
"""
import json
import multiprocessing
import resource
import subprocess
import sys
import tempfile

import numpy as np
import pyagrum as gum

LIMIT = 1e-9
SECONDS = 60
BYTES = 4 << 30


def load(path):
    """The net as the library reads it, with all digits: its reader keeps the numbers in single precision, so each row
    is compared with the text (1e-7) and then put in again."""
    net, child, parents = gum.loadBN(path), None, []
    with open(path, encoding="utf-8") as lines:
        for line in lines:
            if line.startswith("probability ( "):
                child, _, rest = line.removeprefix("probability ( ").removesuffix(" ) {\n").partition(" | ")
                parents = rest.split(", ") if rest else []
            elif line.startswith("  (") or line.startswith("  table "):
                states, _, numbers = line.strip().removeprefix("(").rstrip(";").rpartition(") " if parents else "table ")
                row = dict(zip(parents, states.split(", ")))
                numbers = [float(number) for number in numbers.split(", ")]
                read = net.cpt(child)[row] if row else net.cpt(child).toarray()
                assert np.allclose(read, numbers, rtol=1e-7, atol=1e-7), f"{child} {states}: {read} is not {numbers}"
                if row:
                    net.cpt(child)[row] = numbers
                else:
                    net.cpt(child).fillWith(numbers)
    return net


def sample(net, order, forced, rng):
    """One state of every node, by name, with some causes made present."""
    states = {}
    for name in order:
        if name in forced:
            states[name] = "yes"
            continue
        parents = [net.variable(parent).name() for parent in net.parents(name)]
        chances = net.cpt(name)[{parent: states[parent] for parent in parents}]
        label = int(np.searchsorted(np.cumsum(chances), rng.random()))
        states[name] = net.variable(name).label(min(label, len(chances) - 1))
    return states


def draw(net, order, kinds, rng):
    """One evidence set: findings (the complaint first) and readings."""
    given = [name for name in order if name.startswith("given_")]
    while True:
        forced = set(rng.choice(kinds["causes"], size=rng.integers(1, 3), replace=False).tolist())
        states = sample(net, order, forced, rng)
        shown = [name for name in kinds["findings"] if states[name] == "yes"]
        if shown and all(states[name] == "yes" for name in given):
            break
    findings = {str(rng.choice(shown)): "yes"}
    for _ in range(int(rng.integers(2, 10))):
        pool = shown if rng.random() < 0.4 else kinds["findings"]
        name = str(rng.choice(pool))
        findings[name] = states[name]
    count = int(rng.integers(1, 4)) if rng.random() < 0.6 else 0
    readings = {str(name): states[str(name)] for name in rng.choice(kinds["readings"], size=count, replace=False)}
    return {"findings": findings, "readings": readings}


def shorter(drawn):
    """The same without its last answer."""
    part = "readings" if drawn["readings"] else "findings"
    kept = dict(list(drawn[part].items())[:-1])
    return {**drawn, part: kept}


def ours(folder, family, sets):
    """What our engine says, per set."""
    done = subprocess.run([f"{folder}/examples/belief_sets", family], input=json.dumps(sets), text=True,
                          stdout=subprocess.PIPE, check=True)
    return json.loads(done.stdout)


def ranked(folder, family, drawn):
    """What the program says to a facts file."""
    complaint, *others = drawn["findings"].items()
    answers = ", ".join(f'"{name}": {state}' for name, state in others)
    with tempfile.NamedTemporaryFile("w", suffix=".ron") as facts:
        facts.write(f'(family: "{family}", complaint: ["{complaint[0]}"], findings: {{{answers}}})')
        facts.flush()
        done = subprocess.run([f"{folder}/weephole", "rank", facts.name, "--json"], text=True,
                              stdout=subprocess.PIPE, check=True)
    return {cause["id"]: cause["probability"] for cause in json.loads(done.stdout)["causes"]}


def all_along(evidence, names):
    """The evidence with every link of a chain whose end is "no" set to "no" as well: it follows, and it lets the library
    take the parents one by one."""
    spread = dict(evidence)
    for name, state in evidence.items():
        if state == "no":
            step = 0
            while f"{name}_o{step}" in names:
                spread[f"{name}_o{step}"] = "no"
                step += 1
    return spread


def infer(net, evidence, causes, pipe):
    """The library's posteriors, in a process that can be ended."""
    resource.setrlimit(resource.RLIMIT_AS, (BYTES, BYTES))
    engine = gum.ShaferShenoyInference(net)
    engine.setNumberOfThreads(1)
    engine.setTargets(set(causes))
    engine.setEvidence(evidence)
    try:
        engine.makeInference()
    except Exception as error:  # the library's own, for want of memory among others
        if "bad_alloc" not in str(error):
            raise
        return
    pipe.send({cause: float(engine.posterior(cause)[1]) for cause in causes})


def library(net, evidence, causes):
    """The library's posteriors, or nothing if it runs out of time or memory."""
    receive, send = multiprocessing.Pipe(duplex=False)
    child = multiprocessing.Process(target=infer, args=(net, evidence, causes, send))
    child.start()
    send.close()
    try:
        return receive.recv() if receive.poll(SECONDS) else None
    except EOFError:
        return None
    finally:
        child.kill()
        child.join()


def difference(one, other):
    assert one.keys() == other.keys(), "the causes are not the same"
    return max(abs(one[cause] - other[cause]) for cause in one)


def main():
    path, family, folder, count, seed = sys.argv[1:6]
    multiprocessing.set_start_method("fork")
    gum.setNumberOfThreads(1)
    net = load(path)
    order = [net.variable(node).name() for node in net.topologicalOrder()]
    names, kinds = set(order), {}
    for kind in ("causes", "findings", "readings"):
        listed = subprocess.run([f"{folder}/weephole", "knowledge", "list", kind, "--json"], text=True,
                                stdout=subprocess.PIPE, check=True)
        kinds[kind] = [entry["id"] for entry in json.loads(listed.stdout) if entry["id"] in names]
    given = {name: "yes" for name in order if name.startswith("given_")}
    rng = np.random.default_rng(int(seed))
    worst, worst_rank, answers, banded, asked, shortened = 0.0, 0.0, [], 0, 0, 0
    while len(answers) < int(count):
        drawn = draw(net, order, kinds, rng)
        theirs = None
        while theirs is None and drawn["findings"]:
            mine = ours(folder, family, [drawn])[0]
            seen = {**drawn["findings"], **drawn["readings"]}
            if "error" not in mine:
                evidence = {name: seen[name] for name in mine["used"]}
                theirs = library(net, {**given, **all_along(evidence, names)}, kinds["causes"])
            if theirs is None:
                shortened += 1
                drawn = shorter(drawn)
        if theirs is None:
            continue
        worst = max(worst, difference(mine["posteriors"], theirs))
        answers.append(len(evidence))
        banded += bool(drawn["readings"])
        if not drawn["readings"]:
            asked += 1
            worst_rank = max(worst_rank, difference(ranked(folder, family, drawn), theirs))
    print(f"{family}: {len(answers)} sets of {min(answers)} to {max(answers)} answers ({banded} with readings, answers "
          f"taken away {shortened} times), {len(kinds['causes'])} causes: largest difference {worst:.1e}; "
          f"`weephole rank` on {asked} of them {worst_rank:.1e}", flush=True)
    sys.exit(not max(worst, worst_rank) <= LIMIT)


main()
