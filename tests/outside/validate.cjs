// Prints what Khronos's glTF validator (npm gltf-validator) says of each file named, as a JSON list: everything, of every
// weight, nothing left out.
const fs = require("fs");
const validator = require("gltf-validator");

async function main() {
  const reports = [];
  for (const path of process.argv.slice(2)) {
    const options = { maxIssues: 0, writeTimestamp: false, format: "glb" };
    reports.push(await validator.validateBytes(new Uint8Array(fs.readFileSync(path)), options));
  }
  process.stdout.write(JSON.stringify(reports));
}

main().catch((error) => {
  console.error(String(error));
  process.exit(1);
});
