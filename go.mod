module lunette

go 1.26.0

require (
	github.com/stretchr/testify v1.12.1 // indirect
	go.yaml.in/yaml/v3 v3.0.5 // indirect
	golang.org/x/exp v0.0.0-20261113113407-e3970619a1a4 // indirect
	rsc.io/qr v0.2.0
)
