// Runs the replay in node. Usage: node run_wasm.js REPLAY.wasm
const fs = require("fs");
const printed = [];
WebAssembly.instantiate(fs.readFileSync(process.argv[2]), { page: { put: (c) => printed.push(c) } }).then(
    ({ instance }) => {
        instance.exports.play();
        fs.writeSync(1, Buffer.from(printed)); // at once: exiting may cut what is buffered
    });
