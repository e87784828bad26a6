// Command serve hands out the page on this machine, or writes it into a folder for any other host.
//
//	serve [-addr 127.0.0.1:8000]
//	serve -write site [-url https://example.org/lunette/]
package main

import (
	"cmp"
	"flag"
	"fmt"
	"io/fs"
	"log"
	"net"
	"net/http"
	"os"
	"path/filepath"

	"lunette/www"
)

func main() {
	log.SetFlags(0)
	address := flag.String("addr", cmp.Or(os.Getenv("ADDR"), "127.0.0.1:8000"), "where to serve the page")
	folder := flag.String("write", "", "write the page into this folder instead")
	url := flag.String("url", "", "the address where the page will be; links to it then show its card")
	flag.Parse()

	files, err := www.FilesAt(*url)
	if err != nil {
		log.Fatal(err)
	}
	if *folder != "" {
		err = write(files, *folder)
	} else {
		err = serve(files, *address)
	}
	if err != nil {
		log.Fatal(err)
	}
}

func serve(files fs.FS, address string) error {
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return fmt.Errorf("%w; choose another address, as in ADDR=127.0.0.1:9000 make run", err)
	}
	fmt.Printf("Lunette is at http://%s/  (Ctrl+C ends it)\n", listener.Addr())
	return http.Serve(listener, www.Handler(files))
}

// write copies the page into a new folder, so that nothing of an older page is left among it.
func write(files fs.FS, folder string) error {
	if err := os.RemoveAll(folder); err != nil {
		return err
	}
	if err := os.CopyFS(folder, files); err != nil {
		return err
	}
	extra, err := www.HostFiles(files)
	if err != nil {
		return err
	}
	for name, content := range extra {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(content), 0o644); err != nil {
			return err
		}
	}
	fmt.Printf("The page is in %s; any static host can serve it, from any path.\n", folder)
	return nil
}
