#!/usr/bin/env python3
"""Puts api/openapi.json together out of what the program prints of itself, real answers, and api/skeleton.json, which
holds only what the program's tables cannot say.

    assemble.py [--program build/smallend] [--check | --release]

It rewrites api/openapi.json and api/examples; build again afterward, for the program serves the file. With --check
nothing is written, and the exit status is 1 where either is not what the program says (each difference is told in a
line). With --release the contract is also kept in api/released, for later versions to be compared with; do that once
for a version, when it goes out.
"""

import argparse
import copy
import http.client
import json
import pathlib
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent
sys.path.insert(0, str(ROOT / "tests" / "support"))
sys.dont_write_bytecode = True

from program import Service  # noqa: E402

MEDIA_TYPES = {
    "json": "application/json",
    "md": "text/markdown",
    "txt": "text/plain",
    "html": "text/html",
    "svg": "image/svg+xml",
    "jws": "application/jose",
}
TEXT_SCHEMAS = {"md": "Markdown", "txt": "PlainText", "html": "Page", "svg": "Sketch"}
TEXT_FORMS = ("md", "txt", "html")  # in which problems are told as well
SUFFIXES = {"json": "json", "md": "md", "txt": "txt", "html": "html"}

STATUSES_OF_POST = [400, 405, 406, 408, 411, 413, 415, 417, 422, 429, 431, 500, 503, 505]
STATUSES_OF_LINK = [304, 400, 405, 406, 414, 422, 429, 431, 500, 503, 505]
STATUSES_OF_TABLE = [304, 400, 405, 406, 429, 431, 500, 503, 505]

MOST_BYTES = 600_000


def ref(kind, name):
    return {"$ref": f"#/components/{kind}/{name}"}


# ---- what the program says ----


class Program:
    """The program: what it prints, and what it answers over HTTP."""

    def __init__(self, path):
        self.path = path
        self.service = None

    def print(self, name):
        done = subprocess.run([self.path, "--print", name], capture_output=True, check=True)
        return json.loads(done.stdout)

    def version(self):
        """("0.1.0", "2026-11") of "smallend 0.1.0, rules 2026-11"."""
        done = subprocess.run([self.path, "--version"], capture_output=True, check=True, text=True)
        name_and_version, rules = done.stdout.strip().split(", rules ")
        return name_and_version.split(" ")[1], rules

    def ask(self, method, path, body=None, media_type="*/*"):
        """Status, media type and body of one answer."""
        if self.service is None:
            self.service = Service(self.path)
        connection = http.client.HTTPConnection("127.0.0.1", self.service.port, timeout=60)
        headers = {"Accept": media_type}
        if body is not None:
            headers["Content-Type"] = "application/json"
        connection.request(method, path, body, headers)
        reply = connection.getresponse()
        content = reply.read().decode("utf-8")
        connection.close()
        return reply.status, reply.getheader("Content-Type", "").split(";")[0], content

    def close(self):
        if self.service is not None:
            complaint = self.service.close()
            if complaint:
                raise SystemExit(complaint)


def title_case(word, first=False):
    """setScrew of set-screw; SetScrew with `first`."""
    parts = word.split("-")
    return "".join(part.capitalize() if index or first else part for index, part in enumerate(parts))


# ---- examples: real answers ----


class Examples:
    """Requests of the skeleton and what the program answers to them."""

    def __init__(self, program, rows, routes):
        self.files = {}  # name of a file in api/examples -> text
        self.components = {}
        self.requests = {}  # path of the contract -> names
        self.answers = {}  # (path of the contract, status, form) -> names
        for row in rows:
            path = row.get("path", "/v1/" + row.get("call", "")).split("?")[0]
            posts = "request" in row or "fixture" in row or "text" in row
            template = template_of(routes, "POST" if posts else "GET", path)
            if template is not None:
                self.add(program, row, template)

    def add(self, program, row, key):
        path = row.get("path", "/v1/" + row.get("call", ""))
        body = None
        if "text" in row:
            body = row["text"]
        elif "request" in row or "fixture" in row:
            document = row.get("request") or json.loads((ROOT / f"fixtures/jobs/{row['fixture']}.json").read_text())
            body = json.dumps(document, ensure_ascii=False, indent=2) + "\n"
            self.files[f"{row['name']}.request.json"] = body
            if row.get("status", 200) == 200:
                self.put(row["name"] + "-request", row["summary"], document)
                self.requests.setdefault(key, []).append(row["name"] + "-request")
        for form in row.get("forms", ["json"]):
            self.add_answer(program, row, key, path, body, form)

    def add_answer(self, program, row, key, path, body, form):
        method = "GET" if body is None else "POST"
        status, media_type, content = program.ask(method, path, body, MEDIA_TYPES[form] if body else "*/*")
        if status != row.get("status", 200):
            raise SystemExit(f"example {row['name']}: {method} {path} answered {status}: {content[:400]}")
        is_json = media_type.endswith("json")
        name = row["name"] if form == "json" else f"{row['name']}-{form}"
        value = json.loads(content) if is_json else content
        self.put(name, row["summary"], value)
        self.answers.setdefault((key, status, form), []).append(name)
        text = json.dumps(value, ensure_ascii=False, indent=2) + "\n" if is_json else content
        self.files[f"{row['name']}.answer.{SUFFIXES[form]}"] = text

    def put(self, name, summary, value):
        self.components[name] = {"summary": summary, "value": value}

    def of(self, names):
        return {name: ref("examples", name) for name in names}

    def of_request(self, key):
        return self.of(self.requests.get(key, []))

    def of_answer(self, key, status, form):
        return self.of(self.answers.get((key, status, form), []))


def template_of(routes, method, path):
    """The route that answers this path ({id} stands for one segment), or None."""
    wanted = path.split("/")
    for route in routes:
        parts = route["path"].split("/")
        same = len(parts) == len(wanted) and all(part in (of, "{id}") for part, of in zip(parts, wanted))
        if same and route["method"] == method:
            return route["path"]
    return None


# ---- responses ----


def media(schema, examples):
    content = {"schema": schema}
    if examples:
        content["examples"] = examples
    return content


def problem_description(status, row, problems):
    """The sentence of the skeleton, and which problems of the catalog have this status."""
    names = [f"`{problem['id']}`" for problem in problems if problem["status"] == status]
    word = "Problem" if len(names) == 1 else "Problems"
    return f"{row['description']} {word}: {', '.join(names)}."


def problem_responses(rows, problems, examples):
    """The components: each status once, and once more where the problem may come as text."""
    responses = {}
    for status, row in rows.items():
        number = int(status)
        headers = {"Cache-Control": ref("headers", "CacheControl"), "Vary": ref("headers", "Vary")}
        if row["text"]:
            headers["Server-Timing"] = ref("headers", "ServerTiming")
        if number in (429, 503):
            headers["Retry-After"] = ref("headers", "RetryAfter")
        if number == 405:
            headers["Allow"] = ref("headers", "Allow")
        if number == 401:
            headers["WWW-Authenticate"] = ref("headers", "WwwAuthenticate")
        found = {key: value for (_, of, form), names in examples.answers.items() if of == number and form == "json"
                 for key, value in examples.of(names).items()}
        content = {"application/problem+json": media(ref("schemas", "Problem"), found)}
        response = {"description": problem_description(number, row, problems), "headers": headers, "content": content}
        responses[row["name"]] = response
        if row["text"]:
            with_text = copy.deepcopy(response)
            with_text["description"] += " Who asked for text gets it as text."
            for form in TEXT_FORMS:
                texts = {key: value for (_, of, as_form), names in examples.answers.items()
                         if of == number and as_form == form for key, value in examples.of(names).items()}
                with_text["content"][MEDIA_TYPES[form]] = media(ref("schemas", "ProblemText"), texts)
            responses[row["name"] + "OrText"] = with_text
    responses["NotModified"] = {
        "description": "The bytes of the `ETag` in `If-None-Match` still hold.",
        "headers": {name: ref("headers", of) for name, of in (
            ("Cache-Control", "CacheControl"), ("ETag", "ETag"), ("Vary", "Vary"), ("Server-Timing", "ServerTiming"),
            ("Link", "Link"))},
    }
    return responses


def refusals(statuses, rows, texts):
    """References for an operation."""
    found = {}
    for status in statuses:
        if status == 304:
            found["304"] = ref("responses", "NotModified")
            continue
        row = rows[str(status)]
        found[str(status)] = ref("responses", row["name"] + ("OrText" if texts and row["text"] else ""))
    return found


# ---- operations ----


def call_content(call, forms, examples):
    path = "/v1/" + call["word"]
    schemas = {"json": title_case(call["word"], first=True) + "Answer", **TEXT_SCHEMAS}
    return {MEDIA_TYPES[form]: media(ref("schemas", schemas[form]), examples.of_answer(path, 200, form))
            for form in forms}


def call_headers(link):
    names = {"Cache-Control": "CacheControl", "Vary": "Vary", "Server-Timing": "ServerTiming"}
    names.update({"ETag": "ETag"} if link else {"Content-Location": "ContentLocation"})
    return {name: ref("headers", of) for name, of in names.items()}


def call_description(call, texts):
    sections = ", ".join(f"`{section}`" for section in call["sections"])
    if call["word"] == "size":
        sections += ", `size`"
    return f"{texts['description']} Sections of the answer: {sections}."


def format_parameter(forms):
    return {
        "name": "format",
        "in": "query",
        "description": "The form of the answer; wins over `Accept`.",
        "schema": {"type": "string", "enum": forms},
    }


def call_operations(call, skeleton, examples):
    """The operations of one calculation: POST with a body, GET with the job in the address."""
    texts, problems = skeleton["x-calls"][call["word"]], skeleton["x-problems"]
    forms = call["forms"]
    parameters = [format_parameter(forms)]
    if call["word"] == "load":
        parameters.append(ref("parameters", "Trace"))
    job = ref("schemas", "SizeJob" if call["word"] == "size" else "Job")
    name = title_case(call["word"])
    post = {
        "operationId": name,
        "tags": ["Calculations"],
        "summary": texts["title"],
        "description": call_description(call, texts),
        "parameters": parameters,
        "requestBody": {
            "required": True,
            "description": "The job, as far as it is known.",
            "content": {"application/json": media(job, examples.of_request("/v1/" + call["word"]))},
        },
        "responses": {
            "200": {
                "description": "The answer, whatever its verdict.",
                "headers": call_headers(False),
                "content": call_content(call, forms, examples),
            },
            **refusals(STATUSES_OF_POST, problems, True),
        },
    }
    get = {
        "operationId": name + "Link",
        "tags": ["Links"],
        "summary": texts["title"] + ", by link",
        "description": f"The answer of `POST /v1/{call['word']}` to the job in the address. A POST tells this link in "
        "`Content-Location`.",
        "parameters": [ref("parameters", "Members"), ref("parameters", "Job"), *parameters],
        "responses": {
            "200": {
                "description": "The answer, whatever its verdict.",
                "headers": call_headers(True),
                "content": call_content(call, forms, examples),
            },
            **refusals(STATUSES_OF_LINK, problems, True),
        },
    }
    return {"get": get, "post": post}


def table_operation(path, row, examples, problems):
    """The operation of a table, or of one row of it."""
    one = path.endswith("{id}")
    word = path.split("/")[2]
    schema = row["schema"] + ("Document" if one else "Table")
    statuses = sorted(STATUSES_OF_TABLE + ([404] if one else []))
    return {
        "operationId": "get" + row["schema"] if one else "list" + title_case(word, first=True),
        "tags": ["Tables"],
        "summary": f"Look up one of the {row['title']}" if one else f"List the {row['title']}",
        "description": row["description"],
        "parameters": [ref("parameters", "Id")] if one else [],
        "responses": {
            "200": {
                "description": "The row." if one else "The table.",
                "headers": {
                    "Cache-Control": ref("headers", "CacheControl"),
                    "ETag": ref("headers", "ETag"),
                    "Vary": ref("headers", "Vary"),
                },
                "content": {"application/json": media(ref("schemas", schema), examples.of_answer(path, 200, "json"))},
            },
            **refusals(statuses, problems, False),
        },
    }


def finish_operation(path, operation, examples, problems):
    """An operation of the skeleton: its refusals, and examples where they are named."""
    texts = operation.pop("x-texts", False)
    for status, response in refusals(operation.pop("x-statuses"), problems, texts).items():
        operation["responses"].setdefault(status, response)
    operation["responses"] = dict(sorted(operation["responses"].items()))
    body = operation.get("requestBody", {}).get("content", {})
    for content in body.values():
        names = examples.requests.get(content.pop("x-example-request", None), [])
        if names:
            content["examples"] = examples.of(names)
    for media_type, content in operation["responses"]["200"]["content"].items():
        found = examples.of_answer(path, 200, "json") if media_type.endswith("json") else {}
        if found:
            content["examples"] = found


# ---- schemas ----


def retarget(value):
    """References of the printed schemas, as references of an OpenAPI document."""
    if isinstance(value, dict):
        return {key: of.replace("#/$defs/", "#/components/schemas/") if key == "$ref" else retarget(of)
                for key, of in value.items()}
    return [retarget(entry) for entry in value] if isinstance(value, list) else value


def printed_schemas(program):
    """Every definition that the program prints; two of one name must be the same."""
    found = {}
    for name in ("job", "query", "answer", "problem", "tables"):
        for key, schema in program.print("schema/" + name)["$defs"].items():
            if found.setdefault(key, schema) != schema:
                raise SystemExit(f"the program prints two schemas {key} that differ")
    return {key: retarget(schema) for key, schema in found.items()}


def references(value):
    """Every component that a part of the document names."""
    if isinstance(value, dict):
        for key, of in value.items():
            if key == "$ref":
                yield of
            else:
                yield from references(of)
    elif isinstance(value, list):
        for entry in value:
            yield from references(entry)


def prune(document):
    """Leave out components that nothing leads to."""
    components = document["components"]
    reached, pending = set(), list(references(document["paths"]))
    while pending:
        name = pending.pop()
        if name not in reached:
            reached.add(name)
            kind, key = name.split("/")[2:]
            if key not in components[kind]:
                raise SystemExit(f"there is no {name}")
            pending.extend(references(components[kind][key]))
    for kind in ("schemas", "responses", "parameters", "headers", "examples"):
        components[kind] = {key: value for key, value in sorted(components[kind].items())
                            if f"#/components/{kind}/{key}" in reached}


# ---- the whole ----


def add_schemas(document, program, words):
    """`words` are the calls that a batch takes."""
    schemas = document["components"]["schemas"]
    for name, schema in printed_schemas(program).items():
        if name in schemas:
            raise SystemExit(f"the program prints the schema {name}: take it out of api/skeleton.json")
        schemas[name] = schema
    schemas["ProblemText"] = {"type": "string", "description": "The problem in words, a line for each fault."}
    schemas["BatchEntry"]["properties"]["call"]["enum"] = words


def assemble(program):
    """The document, and the files of api/examples."""
    skeleton = json.loads((HERE / "skeleton.json").read_text(encoding="utf-8"))
    routes = program.print("routes")["routes"]
    calls = program.print("calls")["calls"]
    problem_rows = program.print("problems")["problems"]
    problems = skeleton["x-problems"]
    examples = Examples(program, skeleton["x-examples"], routes)
    document = {key: value for key, value in skeleton.items() if not key.startswith("x-")}
    version, _ = program.version()
    info = document["info"]
    document["info"] = {"title": info.pop("title"), "version": version, **info}
    paths = {}
    for call in calls:
        if call["word"] in skeleton["x-calls"]:
            paths["/v1/" + call["word"]] = call_operations(call, skeleton, examples)
    for path, operations in skeleton["paths"].items():
        for operation in operations.values():
            finish_operation(path, operation, examples, problems)
        paths[path] = operations
    for route in routes:
        word = route["path"].split("/")[2] if route["path"].startswith("/v1/") else ""
        if word in skeleton["x-tables"]:
            row = skeleton["x-tables"][word]
            paths[route["path"]] = {"get": table_operation(route["path"], row, examples, problems)}
    document["paths"] = dict(sorted(paths.items()))
    add_schemas(document, program, [call["word"] for call in calls if call["word"] in skeleton["x-calls"]])
    document["components"]["responses"] = problem_responses(problems, problem_rows, examples)
    document["components"]["examples"] = examples.components
    prune(document)
    return document, examples.files


MOST_COLUMNS = 120


def laid_out(value, indent="", before=0):
    """JSON with what fits on a line on one line; `before` characters stand on it already."""
    line = json.dumps(value, ensure_ascii=False)
    if len(indent) + before + len(line) < MOST_COLUMNS or not value or not isinstance(value, (dict, list)):
        return line
    inner = indent + " "
    if isinstance(value, dict):
        keys = [(json.dumps(key, ensure_ascii=False) + ": ", of) for key, of in value.items()]
        lines = [key + laid_out(of, inner, len(key)) for key, of in keys]
    else:
        lines = [laid_out(of, inner) for of in value]
    first, last = "{}" if isinstance(value, dict) else "[]"
    return first + "\n" + ",\n".join(inner + line for line in lines) + "\n" + indent + last


def outputs(program):
    """Every file this script owns, and what should stand in it."""
    document, files = assemble(program)
    text = laid_out(document) + "\n"
    if len(text.encode("utf-8")) > MOST_BYTES:
        raise SystemExit(f"openapi.json would have {len(text.encode('utf-8'))} bytes, more than {MOST_BYTES}")
    wanted = {HERE / "openapi.json": text}
    wanted.update({HERE / "examples" / name: content for name, content in files.items()})
    return wanted


def made():
    """What stands among the examples and was made here; the programs beside them are written by hand."""
    return sorted([*(HERE / "examples").glob("*.request.*"), *(HERE / "examples").glob("*.answer.*")])


def differences(wanted):
    stale = [path for path in made() if path not in wanted]
    found = [f"{path.relative_to(ROOT)} is not made from anything" for path in stale]
    for path, text in wanted.items():
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            found.append(f"{path.relative_to(ROOT)} is not what the program and the skeleton say")
    return found


def write(wanted):
    (HERE / "examples").mkdir(exist_ok=True)
    for path in made():
        if path not in wanted:
            path.unlink()
    for path, text in wanted.items():
        path.write_text(text, encoding="utf-8")


def release(text):
    folder = HERE / "released"
    folder.mkdir(exist_ok=True)
    (folder / f"openapi-{json.loads(text)['info']['version']}.json").write_text(text, encoding="utf-8")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", default=str(ROOT / "build" / "smallend"))
    parser.add_argument("--check", action="store_true", help="compare and write nothing")
    parser.add_argument("--release", action="store_true", help="also keep it as the released contract of its version")
    arguments = parser.parse_args()
    if arguments.check and arguments.release:
        parser.error("--check writes nothing, --release does")
    program = Program(arguments.program)
    try:
        wanted = outputs(program)
    finally:
        program.close()
    if not arguments.check:
        write(wanted)
        if arguments.release:
            release(wanted[HERE / "openapi.json"])
        return 0
    found = differences(wanted)
    for line in found:
        print(f"FAILED {line}: run api/assemble.py")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
