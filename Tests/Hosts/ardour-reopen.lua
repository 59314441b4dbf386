-- SPDX-License-Identifier: GPL-3.0-or-later
-- The session in a new process, saved under another name so that both states can be compared.
local DIR = os.getenv ("SESSION_DIR")
local backend = AudioEngine:set_backend ("None (Dummy)", "Bench", "")
backend:set_device_name ("Silence")
local s = load_session (DIR, "S1")
assert (s)
Session = s
assert (not s:route_by_name ("Coupler"):nth_plugin (0):isnil (), "the plugin is gone")
sleep (1)
s:save_state ("S2", false, false, false, false, false)
close_session ()
quit ()
