#!/usr/bin/env node
import { begin } from "./begin.js";

begin((main, io) => main(process.argv.slice(2), io));
