import {
  createServerPipeTransport,
  createServerSocketTransport,
  IPCMessageReader,
  IPCMessageWriter,
  type MessageReader,
  type MessageWriter,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-jsonrpc/node";

/** The channel that the command line asks for: `--node-ipc`, `--socket=PORT`, `--pipe=NAME`, else standard input and output. */
export function openTransport(args: readonly string[]): { reader: MessageReader; writer: MessageWriter } {
  if (args.includes("--node-ipc")) {
    return { reader: new IPCMessageReader(process), writer: new IPCMessageWriter(process) };
  }
  const port = Number(argumentOf(args, "--socket"));
  if (Number.isInteger(port) && port > 0) return pair(createServerSocketTransport(port));
  const pipe = argumentOf(args, "--pipe");
  if (pipe) return pair(createServerPipeTransport(pipe));
  return { reader: new StreamMessageReader(process.stdin), writer: new StreamMessageWriter(process.stdout) };
}

const pair = ([reader, writer]: [MessageReader, MessageWriter]) => ({ reader, writer });

function argumentOf(args: readonly string[], name: string): string | undefined {
  const at = args.findIndex((arg) => arg === name || arg.startsWith(`${name}=`));
  const arg = args[at];
  if (arg === undefined) return undefined;
  return arg === name ? args[at + 1] : arg.slice(name.length + 1);
}
