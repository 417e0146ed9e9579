-- Drives a real Neovim against the built server: findings, hover, a mend applied, formatting, rename.
-- Prints what it saw as one line of JSON; the test beside this file judges it.
local server = vim.env.WITNESS_MARK_SERVER
local seen = {}

local client_id = vim.lsp.start_client({
  name = "witness-mark",
  cmd = { "node", server, "--stdio" },
  root_dir = vim.fn.getcwd(),
})
vim.lsp.buf_attach_client(0, client_id)
local buffer = vim.api.nvim_get_current_buf()

local function wait_for(what)
  return vim.wait(20000, what, 20)
end

local function ask(method, params)
  local answers = vim.lsp.buf_request_sync(buffer, method, params, 20000) or {}
  local answer = answers[client_id]
  return answer and answer.result or nil
end

local function line_of(text)
  for i, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do
    if line:find(text, 1, true) then
      return i - 1
    end
  end
end

local function rules()
  local found = {}
  for _, d in ipairs(vim.diagnostic.get(buffer)) do
    table.insert(found, d.code or (d.user_data and d.user_data.lsp and d.user_data.lsp.code))
  end
  table.sort(found)
  return found
end

wait_for(function() return #vim.diagnostic.get(buffer) >= 2 end)
seen.first = rules()

local uri = { uri = vim.uri_from_bufnr(buffer) }
local hover = ask("textDocument/hover", {
  textDocument = uri,
  position = { line = line_of("lens force"), character = 2 },
})
seen.hover = hover and (hover.contents.value or hover.contents) or ""

local bad = line_of("0,8 psi")
local range = { start = { line = bad, character = 15 }, ["end"] = { line = bad, character = 18 } }
local lsp_diagnostics = {}
for _, d in ipairs(vim.diagnostic.get(buffer, { lnum = bad })) do
  table.insert(lsp_diagnostics, d.user_data and d.user_data.lsp or {
    range = range, message = d.message, code = d.code, source = d.source, severity = d.severity,
  })
end
local actions = ask("textDocument/codeAction", {
  textDocument = uri,
  range = range,
  context = { diagnostics = lsp_diagnostics },
}) or {}
for _, action in ipairs(actions) do
  if action.title == "Write 0.8" then
    local edit = action.edit or (ask("codeAction/resolve", action) or {}).edit
    vim.lsp.util.apply_workspace_edit(edit, "utf-16")
    seen.mended = vim.api.nvim_buf_get_lines(buffer, bad, bad + 1, false)[1]
    break
  end
end
wait_for(function()
  for _, rule in ipairs(rules()) do
    if rule == "unit/decimal-comma" then return false end
  end
  return true
end)
seen.after = rules()

local rename = ask("textDocument/rename", {
  textDocument = uri,
  position = { line = line_of("lens area:"), character = 2 },
  newName = "glass area",
})
if rename then vim.lsp.util.apply_workspace_edit(rename, "utf-16") end
seen.text = table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, false), "\n")

io.stdout:write("\nSEEN " .. vim.fn.json_encode(seen) .. "\n")
vim.cmd("qall!")
