#!/usr/bin/python3
"""Keeps the numpy versions of one bench alive and times them in CPU time.

  peer.py FILE     FILE is a python file of kernels: functions named as the benches ask for, each taking the input
                   (JSON) and returning a function without arguments that does the work once and returns numbers.

Lines of JSON: first {"numpy": version} on stdout, then for each line {"kernel": name, "input": ...} or {"kernel": name}
on stdin one line {"cpu": ms, "result": [numbers]} or {"error": words}.
"""
import importlib.util
import json
import sys
import time

import numpy


def load(path):
    spec = importlib.util.spec_from_file_location("kernels", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def serve(kernels):
    ready = {}
    print(json.dumps({"numpy": numpy.__version__}), flush=True)
    for line in sys.stdin:
        asked = json.loads(line)
        name = asked["kernel"]
        try:
            if "input" in asked:
                ready[name] = getattr(kernels, name)(asked["input"])
            before = time.process_time()
            result = ready[name]()
            cpu = (time.process_time() - before) * 1e3
            answer = {"cpu": cpu, "result": [float(x) for x in result]}
        except Exception as error:
            answer = {"error": repr(error)}
        print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    serve(load(sys.argv[1]))
