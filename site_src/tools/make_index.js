// Makes the index of the search at build time: documents come in as JSON, the ready index goes out.

import { readFileSync } from "node:fs";
import { fresh } from "../assets/js/finding.js";

const index = fresh();
index.addAll(JSON.parse(readFileSync(0, "utf-8")));
process.stdout.write(JSON.stringify(index));
