package browser

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"strconv"
	"strings"
	"time"
)

// overMarionette is Firefox's own carriage. A message travels as its length in decimal, a colon, and JSON:
// [0, number, command, parameters] there, [1, number, error or null, result] back. Firefox's source describes it
// in remote/doc/marionette/Protocol.md (the place is from memory; the form was measured).
type overMarionette struct {
	connection net.Conn
	reader     *bufio.Reader
	limit      time.Duration
	number     int
}

// dialMarionette opens a session with the Firefox that listens at address.
func dialMarionette(address string, capabilities map[string]any, limit time.Duration) (carriage, error) {
	connection, err := net.DialTimeout("tcp", address, limit)
	if err != nil {
		return nil, err
	}
	m := &overMarionette{connection: connection, reader: bufio.NewReader(connection), limit: limit}
	connection.SetDeadline(time.Now().Add(limit))
	if _, err = m.receive(); err == nil { // its greeting
		_, err = m.do(newSession, map[string]any{"capabilities": map[string]any{"alwaysMatch": capabilities}})
	}
	if err != nil {
		connection.Close()
		return nil, err
	}
	return m, nil
}

func (m *overMarionette) do(c command, params map[string]any) (any, error) {
	if c == enterFrame { // the one command whose parameters differ: here "id" is a frame's number
		params = map[string]any{"element": params["element"]}
	}
	if params == nil {
		params = map[string]any{}
	}
	m.number++
	message, err := json.Marshal([]any{0, m.number, c.marionette, params})
	if err != nil {
		return nil, err
	}
	m.connection.SetDeadline(time.Now().Add(m.limit))
	if _, err := fmt.Fprintf(m.connection, "%d:%s", len(message), message); err != nil {
		return nil, err
	}
	frame, err := m.receive()
	if err != nil {
		return nil, err
	}
	var number int
	var refused *refusal
	var result any
	if err := json.Unmarshal(frame, &[]any{new(int), &number, &refused, &result}); err != nil {
		return nil, fmt.Errorf("answer is not Marionette's: %w", err)
	}
	if number != m.number {
		return nil, fmt.Errorf("answer %d to command %d", number, m.number)
	}
	if refused != nil {
		return nil, *refused
	}
	if wrapped, ok := result.(map[string]any); ok && len(wrapped) == 1 {
		if value, ok := wrapped["value"]; ok {
			return value, nil
		}
	}
	return result, nil
}

// receive reads one message.
func (m *overMarionette) receive() ([]byte, error) {
	length, err := m.reader.ReadString(':')
	if err != nil {
		return nil, err
	}
	size, err := strconv.Atoi(strings.TrimSuffix(length, ":"))
	if err != nil {
		return nil, fmt.Errorf("a message of Marionette begins with %q instead of its length", length)
	}
	message := make([]byte, size)
	_, err = io.ReadFull(m.reader, message)
	return message, err
}
