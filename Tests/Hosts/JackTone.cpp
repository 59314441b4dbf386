// SPDX-License-Identifier: GPL-3.0-or-later
//
// A sine of known level for a JACK server: couplet_jack_tone HZ DBFS SECONDS PORT... A full-scale sine is 0 dBFS (AES17).
// Exit status 0 only when every port could be connected.
#include <jack/jack.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <unistd.h>

namespace {

struct Tone
{
    jack_port_t* out = nullptr;
    double phase = 0.0, step = 0.0, amplitude = 0.0;
};

int process(jack_nframes_t frames, void* tone)
{
    auto& t = *static_cast<Tone*>(tone);
    auto* samples = static_cast<float*>(jack_port_get_buffer(t.out, frames));
    for (jack_nframes_t i = 0; i < frames; ++i) {
        samples[i] = static_cast<float>(t.amplitude * std::sin(t.phase));
        t.phase = std::fmod(t.phase + t.step, 2.0 * std::numbers::pi);
    }
    return 0;
}

} // namespace

int main(int count, char** words)
{
    if (count < 5) {
        std::fprintf(stderr, "couplet_jack_tone HZ DBFS SECONDS PORT...\n");
        return 2;
    }
    auto* client = jack_client_open("tone", JackNoStartServer, nullptr);
    if (client == nullptr)
        return 1;
    Tone tone;
    tone.step = 2.0 * std::numbers::pi * std::atof(words[1]) / jack_get_sample_rate(client);
    tone.amplitude = std::pow(10.0, std::atof(words[2]) / 20.0);
    tone.out = jack_port_register(client, "out", JACK_DEFAULT_AUDIO_TYPE, JackPortIsOutput, 0);
    jack_set_process_callback(client, process, &tone);
    jack_activate(client);
    int status = 0;
    for (int i = 4; i < count; ++i)
        if (jack_connect(client, jack_port_name(tone.out), words[i]) != 0) {
            std::fprintf(stderr, "no connection to %s\n", words[i]);
            status = 1;
        }
    ::sleep(static_cast<unsigned>(std::atoi(words[3])));
    jack_client_close(client);
    return status;
}
