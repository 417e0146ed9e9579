import {
  type Disposable,
  type ExtensionContext,
  l10n,
  ProcessExecution,
  Task,
  type TaskDefinition,
  TaskGroup,
  TaskScope,
  tasks,
  Uri,
  type WorkspaceFolder,
  workspace,
} from "vscode";

const TYPE = "witness-mark";
const MATCHER = "$witness-mark";

/** Tasks that check every note of a folder by the command line that comes with the extension. */
export function checkTasks(context: ExtensionContext): Disposable {
  const script = Uri.joinPath(context.extensionUri, "dist", "cli.js").fsPath;
  const make = (definition: TaskDefinition, scope: WorkspaceFolder | TaskScope, name: string): Task => {
    const path: unknown = definition.path;
    const args = ["check", typeof path === "string" && path !== "" ? path : "."];
    const folder = typeof scope === "object" ? scope.uri.fsPath : undefined;
    const execution = new ProcessExecution(process.execPath, [script, ...args], {
      ...(folder === undefined ? {} : { cwd: folder }),
      // The editor's own program runs scripts when it is asked to be Node.
      env: { ELECTRON_RUN_AS_NODE: "1", NO_COLOR: "1" },
    });
    const task = new Task(definition, scope, name, "Witness Mark", execution, MATCHER);
    task.group = TaskGroup.Test;
    return task;
  };
  return tasks.registerTaskProvider(TYPE, {
    provideTasks: () =>
      (workspace.workspaceFolders ?? [])
        .filter(({ uri }) => uri.scheme === "file")
        .map((folder) => make({ type: TYPE, path: "." }, folder, l10n.t("Check all job notes"))),
    resolveTask: (task) =>
      make(task.definition, task.scope ?? TaskScope.Workspace, task.name || l10n.t("Check all job notes")),
  });
}
