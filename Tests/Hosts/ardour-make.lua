-- SPDX-License-Identifier: GPL-3.0-or-later
-- A session with the plugin on a track and its parameters away from where they start, saved.
local URI, DIR = os.getenv ("PLUGIN_URI"), os.getenv ("SESSION_DIR")
local backend = AudioEngine:set_backend ("None (Dummy)", "Bench", "")
backend:set_device_name ("Sine Wave 1K, 1/3 Oct")
backend:set_buffer_size (512)
local s = create_session (DIR, "S1", 48000)
assert (s)
Session = s
local track
for t in s:new_audio_track (2, 2, nil, 1, "Coupler", ARDOUR.PresentationInfo.max_order, ARDOUR.TrackMode.Normal, true):iter () do
  track = t
end
local processor = ARDOUR.LuaAPI.new_plugin (s, URI, ARDOUR.PluginType.LV2, "")
assert (not processor:isnil (), "the plugin cannot be made")
assert (track:add_processor_by_index (processor, 0, nil, true) == 0, "the plugin cannot be inserted")
local wanted = { ["Coupler slot"] = 2, ["Drive voltage"] = 123.2, ["Side"] = 1 }
local automatable = processor:to_insert ():to_automatable ()
for p in automatable:all_automatable_params ():iter () do
  local control = automatable:automation_control (p, true)
  local value = wanted[control:desc ().label]
  if value then
    control:set_value (value, PBD.GroupControlDisposition.NoGroup)
    wanted[control:desc ().label] = nil
  end
end
assert (next (wanted) == nil, "a parameter is missing: " .. tostring (next (wanted)))
sleep (2)
s:save_state ("", false, false, false, false, false)
close_session ()
quit ()
