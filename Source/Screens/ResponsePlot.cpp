// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ResponsePlot.h"

namespace couplet {

ResponsePlot::ResponsePlot()
{
    setTitle("Response of the microphone");
    setInterceptsMouseClicks(true, false);
    setWantsKeyboardFocus(true);
}

void ResponsePlot::show(std::shared_ptr<const Coupler> next)
{
    if (coupler == nullptr || next == nullptr || coupler->response != next->response)
        told.reset();
    coupler = std::move(next);
    draw();
}

void ResponsePlot::tell(std::optional<std::size_t> point)
{
    told = point;
    draw();
}

void ResponsePlot::mouseMove(const juce::MouseEvent& event)
{
    if (coupler != nullptr)
        tell(pointNear(coupler->response, size(), event.position.x));
}

bool ResponsePlot::keyPressed(const juce::KeyPress& key)
{
    const bool back = key.isKeyCode(juce::KeyPress::leftKey);
    if (coupler == nullptr || coupler->response.empty() || (!back && !key.isKeyCode(juce::KeyPress::rightKey)))
        return false;
    const auto last = coupler->response.size() - 1;
    if (!told)
        tell(back ? last : 0);
    else if (back)
        tell(*told == 0 ? 0 : *told - 1);
    else
        tell(std::min(*told + 1, last));
    return true;
}

void ResponsePlot::draw()
{
    if (coupler == nullptr)
        setPicture({});
    else
        setPicture(responsePicture(coupler->response, coupler->responseSource, size(), told, *typefaces));
}

} // namespace couplet
