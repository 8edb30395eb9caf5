"""Prints tables of values in the form that tests/values/read-value-tables.ts reads, one row a line."""

import json
import subprocess


def debian(package):
    """'python3-gsw 3.6.16-1+b2', as installed here."""
    asked = ["dpkg-query", "-W", "-f", "${Package} ${Version}", package]
    return "Debian " + subprocess.run(asked, check=True, capture_output=True, text=True).stdout


def table(formula, output, source, why, columns, rows, **more):
    head = {"formula": formula, "output": output, "kind": "oracle", "source": source, "why": why, **more}
    return {**head, "columns": [*columns, "expected"], "rows": rows}


def show(tables):
    texts = []
    for each in tables:
        rows = ",\n    ".join(json.dumps(row) for row in each["rows"])
        head = json.dumps({key: value for key, value in each.items() if key != "rows"}, indent=2)
        texts.append(f'{head[:-2]},\n  "rows": [\n    {rows}\n  ]\n}}')
    print("[\n" + ",\n".join(texts) + "\n]")
