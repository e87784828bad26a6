package browser

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"
)

// A carriage takes one command to a browser and brings back its answer, as encoding/json decodes it. What the browser
// refuses is a refusal; any other error means that it cannot be reached.
type carriage interface {
	do(c command, params map[string]any) (any, error)
}

// command is one command of WebDriver: its name in Marionette, its method and path in HTTP. {id} is the element's.
type command struct{ marionette, method, path string }

// The commands, in the standard's order.
var (
	newSession     = command{"WebDriver:NewSession", "POST", "/session"}
	navigate       = command{"WebDriver:Navigate", "POST", "/url"}
	refresh        = command{"WebDriver:Refresh", "POST", "/refresh"}
	enterFrame     = command{"WebDriver:SwitchToFrame", "POST", "/frame"}
	windowSize     = command{"WebDriver:GetWindowRect", "GET", "/window/rect"}
	resizeWindow   = command{"WebDriver:SetWindowRect", "POST", "/window/rect"}
	findAll        = command{"WebDriver:FindElements", "POST", "/elements"}
	elementText    = command{"WebDriver:GetElementText", "GET", "/element/{id}/text"}
	computedRole   = command{"WebDriver:GetComputedRole", "GET", "/element/{id}/computedrole"}
	computedLabel  = command{"WebDriver:GetComputedLabel", "GET", "/element/{id}/computedlabel"}
	clickElement   = command{"WebDriver:ElementClick", "POST", "/element/{id}/click"}
	clearElement   = command{"WebDriver:ElementClear", "POST", "/element/{id}/clear"}
	sendKeys       = command{"WebDriver:ElementSendKeys", "POST", "/element/{id}/value"}
	runAsync       = command{"WebDriver:ExecuteAsyncScript", "POST", "/execute/async"}
	performActions = command{"WebDriver:PerformActions", "POST", "/actions"}
	screenshot     = command{"WebDriver:TakeScreenshot", "GET", "/screenshot"}
	printPage      = command{"WebDriver:Print", "POST", "/print"}
	chromiumOwn    = command{"", "POST", "/goog/cdp/execute"}
)

// refusal is a browser's answer that it could not do what was asked.
type refusal struct {
	Code    string `json:"error"` // one of WebDriver's section "Errors"
	Message string `json:"message"`
}

func (r refusal) Error() string {
	message, _, _ := strings.Cut(r.Message, "\n")
	return r.Code + ": " + message
}

// passes tells whether the page may still come into a state where the command succeeds.
func (r refusal) passes() bool {
	switch r.Code {
	case "no such element", "stale element reference", "element not interactable", "element click intercepted":
		return true
	}
	return false
}

// overHTTP is the carriage of the standard, as chromedriver and WebKitWebDriver serve it.
type overHTTP struct {
	client  http.Client
	session string // URL of the session, before it exists of the driver
}

// dialHTTP opens a session with the driver at address.
func dialHTTP(address string, capabilities map[string]any, limit time.Duration) (carriage, error) {
	// No proxy, whatever the environment says: the driver is on this machine.
	h := &overHTTP{http.Client{Timeout: limit, Transport: &http.Transport{}}, "http://" + address}
	answer, err := h.do(newSession, map[string]any{"capabilities": map[string]any{"alwaysMatch": capabilities}})
	if err != nil {
		return nil, err
	}
	session, _ := answer.(map[string]any)
	h.session += newSession.path + "/" + text(session["sessionId"])
	return h, nil
}

func (h *overHTTP) do(c command, params map[string]any) (any, error) {
	var body io.Reader
	if c.method == "POST" {
		if params == nil {
			params = map[string]any{} // WebDriver wants an object, be it empty
		}
		content, err := json.Marshal(params)
		if err != nil {
			return nil, err
		}
		body = bytes.NewReader(content)
	}
	request, err := http.NewRequest(c.method, h.session+strings.Replace(c.path, "{id}", text(params["id"]), 1), body)
	if err != nil {
		return nil, err
	}
	request.Header.Set("Content-Type", "application/json; charset=utf-8")
	response, err := h.client.Do(request)
	if err != nil {
		return nil, err
	}
	defer response.Body.Close()
	var answer struct{ Value json.RawMessage }
	if err := json.NewDecoder(response.Body).Decode(&answer); err != nil {
		return nil, fmt.Errorf("answer %s is not WebDriver's: %w", response.Status, err)
	}
	if response.StatusCode != http.StatusOK {
		var refused refusal
		return nil, errors.Join(json.Unmarshal(answer.Value, &refused), refused)
	}
	var value any
	return value, json.Unmarshal(answer.Value, &value)
}
