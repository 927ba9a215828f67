// Does the schema of the job refuse what the program refuses, and take what it takes? Walks through the schema and
// tries every member: of the wrong type, at the ends of its range and beyond, with a name nobody knows beside it.

const WRONG = [[], true, { nonsense: 1 }];
// Faults of the program that a schema can see; of the others (units, contradictions, ids) it knows nothing.
const SEEN_BY_SCHEMA = new Set(["unknown_member", "wrong_type", "missing"]);

const AT_ONCE = 8;

// {"engine": {"bore": value}} of "/engine/bore".
function jobOf(pointer, value) {
  return pointer.split("/").slice(1).reduceRight((inner, name) => ({ [name]: inner }), value);
}

export class Agreement {
  constructor(contract, service, tally) {
    Object.assign(this, { contract, service, tally });
    this.check = contract.operations.find((operation) => operation.id === "check");
    this.schema = { $ref: "#/components/schemas/Job" };
  }

  async run() {
    const members = [...this.members("Job", "")].map(([pointer, member]) => async () => {
      await this.wrongTypes(pointer);
      await this.ends(pointer, member);
      await this.examples(pointer, member);
    });
    const objects = [...this.objects("Job", "")].map((pointer) => () =>
      this.hold(`an unknown member in ${pointer || "the job"}`, jobOf(`${pointer}/nonsense`, 1)));
    const tasks = [...members, ...objects];
    const work = async () => {
      for (let task = tasks.pop(); task; task = tasks.pop()) {
        await task();
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, work));
  }

  // Every member that is no object of the document, as [pointer, its schema].
  *members(name, pointer) {
    for (const [key, member] of Object.entries(this.contract.document.components.schemas[name].properties)) {
      const inner = /\/(Job\w+)$/.exec(member.$ref ?? "");
      if (inner) {
        yield* this.members(inner[1], `${pointer}/${key}`);
      } else {
        yield [`${pointer}/${key}`, member];
      }
    }
  }

  *objects(name, pointer) {
    yield pointer;
    for (const [key, member] of Object.entries(this.contract.document.components.schemas[name].properties)) {
      const inner = /\/(Job\w+)$/.exec(member.$ref ?? "");
      if (inner) {
        yield* this.objects(inner[1], `${pointer}/${key}`);
      }
    }
  }

  async ask(job) {
    const reply = await this.service.post("/v1/check", job);
    return { reply, errors: reply.status === 422 ? reply.document.errors : [] };
  }

  // One test: both take the job, or both refuse it for what a schema can see.
  async hold(name, job) {
    await this.tally.test(`schema and program agree: ${name}`, async () => {
      const { reply, errors } = await this.ask(job);
      const faults = this.contract.judge(this.check, reply);
      const refused = errors.some((error) => SEEN_BY_SCHEMA.has(error.code));
      const bySchema = this.contract.faults(this.schema, job);
      if (reply.status === 200 && bySchema.length > 0) {
        faults.push(`the program takes it, the schema says ${bySchema.join("; ")}`);
      }
      if (refused && bySchema.length === 0) {
        faults.push(`the program says ${JSON.stringify(errors).slice(0, 300)}, the schema takes it`);
      }
      if (reply.status !== 200 && reply.status !== 422) {
        faults.push(`status ${reply.status}`);
      }
      return faults;
    });
  }

  async wrongTypes(pointer) {
    for (const wrong of WRONG) {
      await this.hold(`${pointer} is ${JSON.stringify(wrong)}`, jobOf(pointer, wrong));
    }
  }

  // The ranges told in the contract are those of the program: just inside is taken, just outside refused.
  async ends(pointer, member) {
    const list = member.type === "array";
    const ranged = list ? member.items : member;
    for (const [units, range] of Object.entries(ranged["x-range"] ?? {})) {
      await this.tally.test(`range of ${pointer} in ${units}`, async () => {
        const width = range.maximum - range.minimum;
        const whole = Number.isInteger(range.minimum) && ranged.type?.includes("integer");
        const [small, step] = whole ? [0, 1] : [width * 1e-6, width * 1e-3];
        const tries = [[range.minimum + small, false], [range.maximum - small, false], [range.minimum - step, true],
          [range.maximum + step, true]];
        const faults = [];
        for (const [value, out] of tries) {
          const job = { units, ...jobOf(pointer, list ? [value] : value) };
          const { errors } = await this.ask(job);
          const at = list ? `${pointer}/0` : pointer;
          const refused = errors.some((error) => error.pointer === at && error.code === "out_of_range");
          if (refused !== out) {
            faults.push(`${value} is ${refused ? "" : "not "}out of range: ${JSON.stringify(errors).slice(0, 300)}`);
          }
        }
        return faults;
      });
    }
  }

  // What the contract gives as an example is read.
  async examples(pointer, member) {
    const schema = this.contract.resolve(member);
    const words = [...(schema.enum ?? []), ...(member.examples ?? schema.examples ?? [])];
    if (words.length === 0 || pointer === "/find/what") {
      return;
    }
    await this.tally.test(`examples of ${pointer}`, async () => {
      const faults = [];
      for (const word of words) {
        const { errors } = await this.ask(jobOf(pointer, word));
        const here = errors.filter((error) => error.pointer === pointer);
        const wrong = here.filter((error) => !["out_of_range", "contradiction"].includes(error.code) ||
          /not have this|Not one of/.test(error.detail));
        faults.push(...wrong.map((error) => `${word}: ${error.detail}`));
      }
      return faults;
    });
  }
}
