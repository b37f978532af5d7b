/** A program that writes, again and again, all that commands write, until it is ended: `node writing.js DIRECTORY`. */
import { join } from "node:path";
import { writeNew, writeOver } from "../../reports/output/files.js";
import { writeFolder } from "../../reports/output/folder.js";
import { NewFile } from "../../reports/output/newfile.js";
import { folderOf, longText } from "./written.js";

const directory = process.argv[2]!;
for (let mark = process.pid * 1000; ; mark++) {
  await writeFolder(join(directory, "out"), "report", folderOf(mark));
  await writeOver(join(directory, "picture.svg"), longText(mark));
  const file = await NewFile.open(join(directory, "record.vcd"));
  for (const piece of longText(mark).match(/[^]{1,20000}/g)!) await file.write(piece);
  await file.keep();
  await writeNew(join(directory, `${mark}.yaml`), longText(mark));
}
